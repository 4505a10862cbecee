#pragma once

#include <string>
#include <string_view>

#include "fea/job/job.hpp"

namespace standfast {

/// A job as bytes, exact: what a page that computes carries with it. Readable only by a build of
/// the same sources.
std::string packed_job(const Job& job);

/// The job whose bytes these are.
/// @throws std::domain_error where they are not those of a job
Job unpacked_job(std::string_view bytes);

}  // namespace standfast
