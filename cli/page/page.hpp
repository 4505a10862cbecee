#pragma once

#include <string>
#include <vector>

#include "cli/page/chart.hpp"

namespace standfast {

/// A report page while it is put together.
class ReportPage {
public:
    explicit ReportPage(std::string title) : title_(std::move(title)) {}

    /// Adds markup as it is; what is data in it has gone through html().
    void add(const std::string& markup) { body_ += markup; }
    void add(const Chart& chart);
    void heading(int rank, const std::string& text);
    void paragraph(const std::string& text);
    void list(const std::vector<std::string>& items);
    /// A part that is closed until it is wanted.
    void folded(const std::string& summary, const std::vector<std::string>& items);

    /// The whole file: no address in it leads anywhere outside of it.
    std::string text() const;

private:
    std::string title_, body_;
    std::vector<std::string> charts_;  ///< JSON
};

/// Writes the page; over a page of this program that nobody changed, else only with `force`.
/// @throws UsageError where something else is there, or the build had no Chart.js
/// @throws std::runtime_error where the file cannot be written
void write_page(const std::string& path, const ReportPage& page, bool force);

/// Throws the same before anything was computed, so that nobody waits for a refusal.
void require_page_can_be_written(const std::string& path, bool force);

}  // namespace standfast
