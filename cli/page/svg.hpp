#pragma once

#include <Eigen/Core>
#include <string>
#include <string_view>
#include <vector>

namespace standfast {

/// A drawing to scale: metres in, an SVG element out. y is up.
class Svg {
public:
    /// Puts the box from `low` to `high` (m) into a picture `width` units wide at most and `height`
    /// high at most, with margins at the left and right for letters.
    Svg(const Eigen::Vector2d& low, const Eigen::Vector2d& high, double width, double height,
        double left_margin, double right_margin);

    void polygon(const std::vector<Eigen::Vector2d>& corners, std::string_view css_class,
                 const std::string& title = "");
    void line(const Eigen::Vector2d& from, const Eigen::Vector2d& to, std::string_view css_class);
    void circle(const Eigen::Vector2d& middle, double radius_in_units, std::string_view css_class);
    /// @param anchor  "start", "middle" or "end"
    void text(const Eigen::Vector2d& at, const std::string& words, std::string_view anchor,
              std::string_view css_class = "halo");

    /// Letters in a column beside the picture, moved apart where they would meet, each joined to
    /// its place by a thin line.
    struct Letter {
        Eigen::Vector2d place;
        std::string words;
    };
    void column(std::vector<Letter> letters, bool at_right);

    double units_per_metre() const { return scale_; }
    Eigen::Vector2d in_units(const Eigen::Vector2d& point) const;

    /// @param label  what is read out instead of the picture
    std::string element(const std::string& label) const;

private:
    Eigen::Vector2d low_, high_;
    double scale_ = 1, left_ = 0, width_ = 0, height_ = 0;
    std::string content_;
};

}  // namespace standfast
