#include "fea/quantities/for_each_index.hpp"

#ifdef STANDFAST_THREADS
#include <tbb/parallel_for.h>
#endif

namespace standfast {

void for_each_index(std::size_t count, const std::function<void(std::size_t)>& work) {
#ifdef STANDFAST_THREADS
    tbb::parallel_for(std::size_t{0}, count, work);
#else
    for (std::size_t index = 0; index < count; ++index) work(index);
#endif
}

}  // namespace standfast
