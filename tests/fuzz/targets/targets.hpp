#pragma once

#include <string_view>
#include <vector>

namespace standfast::fuzz {

/// One reader of bytes from outside: called with any bytes it must return. It aborts where the
/// reader breaks its word (a number that is not finite, an exception that it does not name).
struct Target {
    std::string_view name;  ///< of the folder tests/fuzz/found/NAME
    void (*try_bytes)(std::string_view bytes);
};

void try_job(std::string_view bytes);
void try_overlay(std::string_view bytes);
void try_catalogue(std::string_view bytes);
void try_universal_file(std::string_view bytes);
void try_receptance_table(std::string_view bytes);
void try_recording(std::string_view bytes);
void try_shard(std::string_view bytes);
void try_command_line(std::string_view bytes);
void try_program(std::string_view bytes);

/// Stops the process as libFuzzer wants it.
[[noreturn]] void broken(const char* what);

}  // namespace standfast::fuzz
