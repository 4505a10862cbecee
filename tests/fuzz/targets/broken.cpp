#include <cstdio>
#include <cstdlib>

#include "tests/fuzz/targets/targets.hpp"

namespace standfast::fuzz {

void broken(const char* what) {
    std::fputs(what, stderr);
    std::fputs("\n", stderr);
    std::abort();
}

}  // namespace standfast::fuzz
