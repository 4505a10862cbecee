#pragma once

#include <string>

#include "fea/job/job.hpp"
#include "fea/studies/fit/fit.hpp"

namespace standfast {

/// What a fit found, as an overlay for --with: readable TOML without a date.
/// @param job_path  as the user wrote it
/// @param inputs    fingerprint of the job's text
std::string overlay_text(const Job& job, const FitResult& result, const std::string& job_path,
                         const std::string& inputs);

/// Writes the overlay. A file that is there and was not written by a fit, or was changed since, is
/// left alone unless forced.
/// @throws UsageError
void save_overlay(const std::string& path, const std::string& text, bool force);

}  // namespace standfast
