#include "materials/units.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <numbers>
#include <random>

#include "materials/unit_table.hpp"

namespace standfast {
namespace {

double read(std::string_view text, Quantity quantity) {
    const ParsedQuantity parsed = parse_quantity(text, quantity);
    EXPECT_EQ(parsed.error, "") << text;
    return parsed.value;
}

std::string error_of(std::string_view text, Quantity quantity) {
    return parse_quantity(text, quantity).error;
}

// NIST Special Publication 811 (2008), appendix B.8 (from memory; the factors in bold there are
// exact). Tolerance: half a unit of the last digit printed, exact ones to rounding.
struct PublishedFactor {
    const char* text;
    Quantity quantity;
    double si;
    double relative_tolerance;
};

constexpr double exact = 2e-16;
constexpr double seven_digits = 5e-7;

constexpr PublishedFactor nist_sp_811[] = {
    {"1 in", Quantity::length, 0.0254, exact},
    {"1 ft", Quantity::length, 0.3048, exact},
    {"1 mil", Quantity::length, 2.54e-5, exact},
    {"1 lb", Quantity::mass, 0.45359237, exact},
    {"1 oz", Quantity::mass, 2.834952e-2, seven_digits},
    {"1 lbf", Quantity::force, 4.4482216152605, exact},
    {"1 kgf", Quantity::force, 9.80665, exact},
    {"1 ft lbf", Quantity::torque, 1.355818, seven_digits},
    {"1 in lbf", Quantity::torque, 0.1129848, seven_digits},
    {"1 psi", Quantity::pressure, 6894.757, seven_digits},
    {"1 ksi", Quantity::pressure, 6.894757e6, seven_digits},
    {"1 bar", Quantity::pressure, 1e5, exact},
    {"1 kgf/cm2", Quantity::pressure, 9.80665e4, exact},
    {"1 lbf/in", Quantity::stiffness, 175.1268, seven_digits},
    {"1 lb/in3", Quantity::density, 27679.90, seven_digits},
    {"1 lb/ft3", Quantity::density, 16.01846, seven_digits},
    {"1 in2", Quantity::area, 6.4516e-4, exact},
    {"1 in4", Quantity::second_moment, 4.162314e-7, seven_digits},
    {"1 lb in2", Quantity::inertia, 2.926397e-4, seven_digits},
    {"1 hp", Quantity::power, 745.6999, seven_digits},
    {"1 rpm", Quantity::rotational_speed, 0.1047198, seven_digits},
    {"1 deg", Quantity::angle, 1.745329e-2, seven_digits},
    {"1 ft/min", Quantity::surface_speed, 5.08e-3, exact},
};

TEST(Units, ConversionsMatchNistSp811) {
    for (const PublishedFactor& row : nist_sp_811) {
        EXPECT_NEAR(read(row.text, row.quantity), row.si, row.relative_tolerance * row.si)
            << row.text;
    }
}

TEST(Units, MetricTextIsTheNearestDouble) {
    EXPECT_EQ(read("57.15 mm", Quantity::length), 0.05715);
    EXPECT_EQ(read("0.3 mm", Quantity::length), 0.0003);
    EXPECT_EQ(read("3 %", Quantity::percent), 0.03);
    EXPECT_EQ(read("2.7 g/cm3", Quantity::density), 2700);
    EXPECT_EQ(read("6 in", Quantity::length), 0.1524);
}

TEST(Units, AShopsManyWaysToWriteTheSameThing) {
    const auto same = [](const char* a, const char* b, Quantity quantity) {
        const double first = read(a, quantity);
        EXPECT_NEAR(first, read(b, quantity), 4e-16 * std::abs(first)) << a << " and " << b;
    };
    same("25.4 mm", "1 in", Quantity::length);
    same("25.4mm", "1\"", Quantity::length);
    same("1 in.", "1000 thou", Quantity::length);
    same("5 thou", "127 um", Quantity::length);
    same("127 \xC2\xB5m", "127 \xCE\xBCm", Quantity::length);
    same("3/8 in", "0.375 in", Quantity::length);
    same("1-1/2 in", "1.5 in", Quantity::length);
    same("1 1/2\"", "38.1 mm", Quantity::length);
    same("-1/2 in", "-12.7 mm", Quantity::length);
    same(".5 in", "+0.5 inch", Quantity::length);
    same("1E3 MM", "1 m", Quantity::length);
    same("25 N m", "25 N\xC2\xB7m", Quantity::torque);
    same("25 Nm", "25 N-m", Quantity::torque);
    same("18 ft lb", "18 lbf-ft", Quantity::torque);
    same("12000 rpm", "200 rev/s", Quantity::rotational_speed);
    same("12000 rev/min", "12000 1/min", Quantity::rotational_speed);
    same("400 sfm", "121.92 m/min", Quantity::surface_speed);
    same("35 ipm", "889 mm/min", Quantity::feed_speed);
    same("80 N/um", "80 kN/mm", Quantity::stiffness);
    same("80 N/\xC2\xB5m", "80 MN/m", Quantity::stiffness);
    same("0.8 MN m/rad", "800 N m/mrad", Quantity::angular_stiffness);
    same("0.8 MNm/rad", "800 kN m/rad", Quantity::angular_stiffness);
    same("1650 N/mm2", "1.65 GPa", Quantity::pressure);
    same("1650 N/mm^2", "1650 Mpa", Quantity::pressure);
    same("22 N/mm", "22 kN/m", Quantity::force_per_length);
    same("0.05 N/um/mm2", "50 GN/m3", Quantity::stiffness_per_area);
    same("1e+15 N/m", "1e9 MN/m", Quantity::stiffness);
    same("180 deg", "3.14159265358979323846 rad", Quantity::angle);
    same("180\xC2\xB0", "3.14159265358979323846 rad", Quantity::angle);
}

TEST(Units, LowerCaseMegaIsRefusedBecauseItWouldBeMilli) {
    EXPECT_NE(error_of("0.8 mN m/rad", Quantity::angular_stiffness), "");
    EXPECT_NE(error_of("5 mn/m", Quantity::stiffness), "");
}

TEST(Units, ABareNumberIsToldWhichUnitsFit) {
    EXPECT_EQ(error_of("150", Quantity::length),
              "\"150\" has no unit; expected a length in mm, in, thou, um, cm, m, ft");
    EXPECT_NE(error_of("0", Quantity::length), "");
}

TEST(Units, ACommaIsToldAboutTheDecimalPoint) {
    EXPECT_EQ(error_of("0,3 mm", Quantity::length),
              "\"0,3 mm\" has a comma; the decimal point is a point: \"0.3 mm\"; expected a "
              "length in mm, in, thou, um, cm, m, ft");
    EXPECT_NE(error_of("12,000 rpm", Quantity::rotational_speed).find("write \"12000 rpm\""),
              std::string::npos);
}

TEST(Units, AUnitOfSomethingElseIsCalledWhatItIs) {
    EXPECT_EQ(error_of("12 N/um", Quantity::length),
              "\"12 N/um\" is a stiffness; expected a length in mm, in, thou, um, cm, m, ft");
    EXPECT_NE(error_of("20 kg", Quantity::force).find("a force is written \"20 kgf\""),
              std::string::npos);
    EXPECT_NE(error_of("45 lb", Quantity::force).find("a force is written \"45 lbf\""),
              std::string::npos);
}

TEST(Units, AMisspeltUnitIsShownTheNearest) {
    EXPECT_NE(error_of("150 mmm", Quantity::length).find("did you mean \"mm\"?"),
              std::string::npos);
    EXPECT_NE(error_of("9000 rmp", Quantity::rotational_speed).find("did you mean \"rpm\"?"),
              std::string::npos);
}

TEST(Units, NothingButAFiniteNumberPasses) {
    for (const char* text : {"", "  ", "mm", "nan mm", "inf mm", "-inf mm", "1e400 mm", "1e-400 m",
                             "3/0 in", "1.5/2 in", "--5 mm", "5 5 mm", "1e99999999999 mm",
                             "0x10 mm", "5 mm mm", "\xFF\xFE", "5 \xC2", "1-1/2-1/2 in"}) {
        EXPECT_NE(error_of(text, Quantity::length), "") << text;
    }
    EXPECT_NE(error_of("5 -", Quantity::number), "");
    EXPECT_NE(error_of("5 mm", Quantity::number), "");
    EXPECT_EQ(read("0.3", Quantity::number), 0.3);
}

TEST(Units, AThousandDigitsAreStillOneNumber) {
    EXPECT_EQ(read("0." + std::string(1000, '3') + " m", Quantity::length), 1.0 / 3);
    EXPECT_NE(error_of(std::string(1000, '9') + " m", Quantity::length), "");
}

TEST(Units, AFeedIsToldApartByItsUnit) {
    const std::vector<Quantity> feed{Quantity::length, Quantity::feed_speed};
    const ParsedAlternative per_tooth = parse_quantity("0.06 mm", feed);
    const ParsedAlternative per_minute = parse_quantity("900 mm/min", feed);
    EXPECT_EQ(per_tooth.quantity, Quantity::length);
    EXPECT_EQ(per_minute.quantity, Quantity::feed_speed);
    EXPECT_DOUBLE_EQ(per_minute.value, 0.015);
    EXPECT_NE(parse_quantity("900 rpm", feed).error.find("a spindle speed"), std::string::npos);
}

TEST(Units, FullTurnIsTwoPiInEveryUnit) {
    EXPECT_DOUBLE_EQ(read("360 deg", Quantity::angle), 2 * std::numbers::pi);
    EXPECT_DOUBLE_EQ(read("60 rpm", Quantity::rotational_speed), 2 * std::numbers::pi);
    EXPECT_DOUBLE_EQ(read("1 N m/deg", Quantity::angular_stiffness), 180 / std::numbers::pi);
}

TEST(Units, EverySpellingInTheTableIsReadAndNoneTwice) {
    for (const Quantity quantity : all_quantities()) {
        for (const Unit& unit : units_of(quantity).units) {
            EXPECT_EQ(find_unit(quantity, unit.symbol), &unit) << unit.symbol;
            for (const std::string_view spelling : unit.spellings) {
                EXPECT_EQ(find_unit(quantity, spelling), &unit) << spelling;
            }
        }
    }
}

bool same_bits(double a, double b) { return std::memcmp(&a, &b, sizeof a) == 0; }

TEST(Units, ExactTextReadsBackBitForBit) {
    std::mt19937_64 random(20240607);
    std::uniform_real_distribution<double> exponent(-12, 15), mantissa(1, 10);
    for (const Quantity quantity : all_quantities()) {
        for (const UnitSystem system : {UnitSystem::metric, UnitSystem::inch}) {
            for (int draw = 0; draw < 1000; ++draw) {
                const double sign = draw % 2 == 0 ? 1 : -1;
                const double value = sign * mantissa(random) * std::pow(10.0, exponent(random));
                const std::string text = exact_text(value, quantity, system);
                const ParsedQuantity back = parse_quantity(text, quantity);
                ASSERT_EQ(back.error, "") << text;
                ASSERT_TRUE(same_bits(back.value, value)) << text;
            }
            for (const double value : {0.0, -0.0, 1.0, 1e-99, -1e99, 0.1, 1.0 / 3}) {
                const std::string text = exact_text(value, quantity, system);
                EXPECT_TRUE(same_bits(parse_quantity(text, quantity).value, value)) << text;
            }
        }
    }
}

TEST(Units, ExactTextIsWhatAPersonWouldWrite) {
    EXPECT_EQ(exact_text(read("2.25 in", Quantity::length), Quantity::length, UnitSystem::metric),
              "57.15 mm");
    EXPECT_EQ(exact_text(0.05715, Quantity::length, UnitSystem::inch), "2.25 in");
    EXPECT_EQ(exact_text(read("9000 rpm", Quantity::rotational_speed), Quantity::rotational_speed,
                         UnitSystem::metric),
              "9000 rpm");
    EXPECT_EQ(exact_text(read("20 deg", Quantity::angle), Quantity::angle, UnitSystem::inch),
              "20 deg");
    EXPECT_EQ(exact_text(8e5, Quantity::angular_stiffness, UnitSystem::metric), "800000 N m/rad");
    EXPECT_EQ(exact_text(1e15, Quantity::number, UnitSystem::metric), "1000000000000000");
    EXPECT_THROW(exact_text(std::nan(""), Quantity::length, UnitSystem::metric), std::domain_error);
}

}  // namespace
}  // namespace standfast
