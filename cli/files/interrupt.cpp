#include "cli/files/interrupt.hpp"

#include <unistd.h>

#include <array>
#include <atomic>
#include <csignal>
#include <string_view>

namespace standfast {
namespace {

constexpr int kSignalBase = 128;  // what shells report for a program that a signal ended

// A handler can see nothing but what has static storage.
// NOLINTBEGIN(cppcoreguidelines-avoid-non-const-global-variables)
std::array<char, 4096> unfinished{};
std::atomic<bool> writing{false};
// NOLINTEND(cppcoreguidelines-avoid-non-const-global-variables)
static_assert(std::atomic<bool>::is_always_lock_free);

void on_signal(int signal) {
    if (writing) unlink(unfinished.data());
    constexpr std::string_view kText = "\nstandfast: interrupted\n";
    [[maybe_unused]] const ssize_t ignored = ::write(STDERR_FILENO, kText.data(), kText.size());
    _exit(kSignalBase + signal);
}

}  // namespace

void end_at_interrupt() {
    struct sigaction action {};
    action.sa_handler = on_signal;
    sigfillset(&action.sa_mask);
    sigaction(SIGINT, &action, nullptr);
    sigaction(SIGTERM, &action, nullptr);
}

Unfinished::Unfinished(const std::filesystem::path& path) {
    const std::string name = path.string();
    if (name.size() >= unfinished.size()) return;
    unfinished[name.copy(unfinished.data(), name.size())] = '\0';
    writing = true;
}

Unfinished::~Unfinished() { writing = false; }

}  // namespace standfast
