#include "fea/packing/packed_job.hpp"

#include "fea/packing/job_fields.hpp"
#include "fea/packing/pack.hpp"

namespace standfast {

std::string packed_job(const Job& job) { return packed(job); }

Job unpacked_job(std::string_view bytes) { return unpacked<Job>(bytes); }

}  // namespace standfast
