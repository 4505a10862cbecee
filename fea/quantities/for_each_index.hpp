#pragma once

#include <cstddef>
#include <functional>

namespace standfast {

/// Calls work(i) once for every i in [0, count), in any order and possibly at once on several
/// threads (oneTBB where the build has it, else one after the other). work must not touch what
/// another index writes. The first exception thrown by work is rethrown here.
void for_each_index(std::size_t count, const std::function<void(std::size_t)>& work);

}  // namespace standfast
