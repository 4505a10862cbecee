#include "cli/explore/answers/explore_entry.hpp"

#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>

#include "cli/explore/answers/explore_session.hpp"

namespace {

std::unique_ptr<standfast::ExploreSession>& session() {
    static std::unique_ptr<standfast::ExploreSession> one;
    return one;
}

std::string& kept() {
    static std::string text;
    return text;
}

}  // namespace

unsigned char* standfast_room(std::size_t size) {
    return std::make_unique<unsigned char[]>(size).release();
}

void standfast_let_go(const unsigned char* room) {
    const std::unique_ptr<const unsigned char[]> ended(room);
}

const char* standfast_load(const unsigned char* bytes, std::size_t size) {
    try {
        const std::string_view view(reinterpret_cast<const char*>(bytes), size);
        session() = std::make_unique<standfast::ExploreSession>(standfast::unpacked_input(view));
    } catch (const std::exception& error) {
        kept() = error.what();
        return kept().c_str();
    }
    return nullptr;
}

const char* standfast_answer(const char* question) {
    kept() = session() ? session()->answer(question) : R"({"error":"nothing was loaded"})";
    return kept().c_str();
}
