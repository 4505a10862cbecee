#include "cli/shards/whole_lines.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <stdexcept>

#include "cli/files/interrupt.hpp"
#include "cli/files/usage_error.hpp"

namespace standfast {
namespace {

enum State : int { idle, writing, stop_asked, stopped };

constexpr int kInterrupted = 130;  // what shells report for a program that Ctrl-C ended

// A handler can see nothing but what has static storage.
std::atomic<int> state{idle};  // NOLINT(cppcoreguidelines-avoid-non-const-global-variables)
static_assert(std::atomic<int>::is_always_lock_free);

[[noreturn]] void end_now() {
    constexpr std::string_view kText =
        "\nstandfast: interrupted; the lines written so far are whole\n";
    [[maybe_unused]] const ssize_t ignored = ::write(STDERR_FILENO, kText.data(), kText.size());
    _exit(kInterrupted);
}

/// May run on any thread, between any two instructions: a line either has begun, and then ends
/// first, or never begins.
void on_interrupt(int) {
    int expected = idle;
    if (state.compare_exchange_strong(expected, stopped)) {
        end_now();
    }
    expected = writing;
    state.compare_exchange_strong(expected, stop_asked);
}

void install(int signal, void (*handler)(int)) {
    struct sigaction action {};
    action.sa_handler = handler;
    sigemptyset(&action.sa_mask);
    action.sa_flags = SA_RESTART;
    sigaction(signal, &action, nullptr);
}

[[noreturn]] void refuse(const std::string& path) {
    throw std::runtime_error((path.empty() ? std::string("standard output") : path) + ": " +
                             std::strerror(errno));  // NOLINT(concurrency-mt-unsafe)
}

void write_all(int descriptor, std::string_view bytes, const std::string& path) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) {
            continue;
        }
        if (written < 0) {
            refuse(path);
        }
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
}

}  // namespace

WholeLines::WholeLines(const std::string& path) : path_(path) {
    descriptor_ = path.empty()
                      ? STDOUT_FILENO
                      : open(path.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0666);
    if (descriptor_ < 0) {
        refuse(path);
    }
    if (!path.empty() && flock(descriptor_, LOCK_EX | LOCK_NB) != 0) {
        const bool taken = errno == EWOULDBLOCK;
        close(descriptor_);
        if (taken)
            throw UsageError(path + ": another run is writing to it; wait, or choose another file");
        refuse(path);
    }
    state = idle;
    install(SIGINT, on_interrupt);
    install(SIGTERM, on_interrupt);
}

WholeLines::~WholeLines() {
    end_at_interrupt();
    if (!path_.empty()) {
        close(descriptor_);
    }
}

void WholeLines::write(std::string_view line) {
    int expected = idle;
    if (!state.compare_exchange_strong(expected, writing)) {
        end_now();
    }
    try {
        write_all(descriptor_, line, path_);
    } catch (...) {
        state = idle;
        throw;
    }
    expected = writing;
    if (!state.compare_exchange_strong(expected, idle)) {
        end_now();
    }
}

}  // namespace standfast
