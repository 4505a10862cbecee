#include "cli/page/svg.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/page/markup.hpp"

namespace standfast {
namespace {

constexpr double kLineHeight = 13, kBorder = 10;

}  // namespace

Svg::Svg(const Eigen::Vector2d& low, const Eigen::Vector2d& high, double width, double height,
         double left_margin, double right_margin)
    : low_(low), high_(high) {
    const Eigen::Vector2d size = (high - low).cwiseMax(1e-6);
    const double room = width - left_margin - right_margin;
    scale_ = std::min(room / size.x(), (height - 2 * kBorder) / size.y());
    // A narrow picture stands in the middle of its room.
    left_ = left_margin + (room - size.x() * scale_) / 2;
    width_ = width;
    height_ = size.y() * scale_ + 2 * kBorder;
}

Eigen::Vector2d Svg::in_units(const Eigen::Vector2d& point) const {
    return {left_ + (point.x() - low_.x()) * scale_, kBorder + (high_.y() - point.y()) * scale_};
}

void Svg::polygon(const std::vector<Eigen::Vector2d>& corners, std::string_view css_class,
                  const std::string& title) {
    std::string points;
    for (const Eigen::Vector2d& corner : corners) {
        const Eigen::Vector2d at = in_units(corner);
        points += fmt::format("{}{:.1f},{:.1f}", points.empty() ? "" : " ", at.x(), at.y());
    }
    content_ +=
        title.empty()
            ? fmt::format("<polygon class=\"{}\" points=\"{}\"/>\n", css_class, points)
            : fmt::format("<polygon class=\"{}\" points=\"{}\"><title>{}</title></polygon>\n",
                          css_class, points, html(title));
}

void Svg::line(const Eigen::Vector2d& from, const Eigen::Vector2d& to, std::string_view css_class) {
    const Eigen::Vector2d a = in_units(from), b = in_units(to);
    content_ += fmt::format(
        "<line class=\"{}\" x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\"/>\n", css_class,
        a.x(), a.y(), b.x(), b.y());
}

void Svg::circle(const Eigen::Vector2d& middle, double radius, std::string_view css_class) {
    const Eigen::Vector2d at = in_units(middle);
    content_ += fmt::format("<circle class=\"{}\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{}\"/>\n",
                            css_class, at.x(), at.y(), radius);
}

void Svg::text(const Eigen::Vector2d& place, const std::string& words, std::string_view anchor,
               std::string_view css_class) {
    const Eigen::Vector2d at = in_units(place);
    content_ +=
        fmt::format("<text class=\"{}\" x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>\n",
                    css_class, at.x(), at.y() + 4, anchor, html(words));
}

void Svg::column(std::vector<Letter> letters, bool at_right) {
    std::stable_sort(letters.begin(), letters.end(),
                     [](const Letter& a, const Letter& b) { return a.place.y() > b.place.y(); });
    std::vector<double> heights;
    double last = -kLineHeight;
    for (const Letter& letter : letters) {
        last = std::max(in_units(letter.place).y(), last + kLineHeight);
        heights.push_back(last);
    }
    // What was pushed out below moves up again as far as there is room.
    double next = height_ + kLineHeight - kBorder / 2;
    for (std::size_t i = letters.size(); i-- > 0;) {
        heights[i] = std::min(heights[i], next - kLineHeight);
        next = heights[i];
    }
    for (std::size_t i = 0; i < letters.size(); ++i) {
        const Eigen::Vector2d place = in_units(letters[i].place);
        const double x = at_right ? width_ - 2 : 2;
        const double length = 6.1 * static_cast<double>(letters[i].words.size()) + 4;
        content_ += fmt::format(
            "<line class=\"size\" x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\"/>"
            "<text class=\"halo\" x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>\n",
            at_right ? x - length : x + length, heights[i], place.x(), place.y(), x, heights[i] + 4,
            at_right ? "end" : "start", html(letters[i].words));
    }
}

std::string Svg::element(const std::string& label) const {
    return fmt::format("<svg viewBox=\"0 0 {:.0f} {:.0f}\" role=img aria-label=\"{}\">\n{}</svg>\n",
                       width_, height_, html(label), content_);
}

}  // namespace standfast
