// libFuzzer target. Build with clang and -DSTANDFAST_FUZZ=ON, then
//   read_program_fuzz tests/fuzz/found/program
// A crash, a hang or memory far above the input's size is a fault: its input goes into
// tests/fuzz/found, which the ordinary tests replay.
#include <cstddef>
#include <cstdint>

#include "tests/fuzz/targets/targets.hpp"

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer looks for
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    standfast::fuzz::try_program({reinterpret_cast<const char*>(data), size});
    return 0;
}
