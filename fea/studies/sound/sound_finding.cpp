#include "fea/studies/sound/sound_finding.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kWindowSeconds = 1, kRevolutionsInWindow = 16, kLeastRevolutions = 8;
// Shares of power at which a cause is named; below the lesser one it is ruled out.
constexpr double kChatter = 0.10, kMaybeChatter = 0.02;
constexpr double kHalfTooth = 0.15, kOverRunout = 4;
// Half-tooth lines beside the tooth-passing lines next to them, median, dB.
constexpr double kAlternates = -4.5, kMayAlternate = -8, kAlternatesSurely = -1;
constexpr double kRunout = 0.10;
constexpr double kLoudTone = 0.3;
/// Tones that hold less of the sound than this are drowned.
constexpr double kDrowned = 0.05;
constexpr double kStandsOut = 10;
constexpr int kFewPlaces = 3;
constexpr std::size_t kBesideLine = 6;  // entries
constexpr double kLowestHump = 120, kHumpStands = 4, kLoudHump = 0.3;
/// Share of such a hump beside the teeth at which it may be wild chatter.
constexpr double kWild = 0.1;
constexpr double kMuchClipping = 1e-3;

/// Share of samples in runs of three and more at the largest magnitude.
double clipped_share(const Recording& recording) {
    std::size_t clipped = 0;
    for (const std::vector<float>& channel : recording.channels) {
        float stop = 0;
        for (const float x : channel) stop = std::max(stop, std::abs(x));
        std::size_t run = 0;
        for (const float x : channel) {
            run = stop > 0 && std::abs(x) >= 0.9999F * stop ? run + 1 : 0;
            if (run >= 3) clipped += run == 3 ? 3 : 1;
        }
    }
    const double all =
        static_cast<double>(recording.samples()) * static_cast<double>(recording.channels.size());
    return all > 0 ? static_cast<double>(clipped) / all : 0;
}

bool is_half_tooth(const HeardLine& heard, const HeardCut& cut) {
    return heard.source == LineSource::spindle && cut.even_pitch && cut.teeth % 2 == 0 &&
           std::fmod(*heard.order, cut.teeth) == cut.teeth / 2;
}

SoundShares shares_of(const std::vector<HeardLine>& lines, const HeardCut& cut) {
    SoundShares shares;
    for (const HeardLine& heard : lines) {
        switch (heard.source) {
            case LineSource::tooth_passing:
                shares.tooth_passing += heard.line.power;
                break;
            case LineSource::spindle:
                (is_half_tooth(heard, cut) ? shares.half_tooth : shares.spindle) +=
                    heard.line.power;
                break;
            case LineSource::chatter:
                shares.chatter += heard.line.power;
                break;
            case LineSource::hum:
                shares.hum += heard.line.power;
                break;
            case LineSource::unknown:
                shares.unknown += heard.line.power;
                break;
        }
    }
    return shares;
}

double all_power(const PowerSpectrum& spectrum, double from_hertz) {
    double sum = 0;
    for (std::size_t i = 0; i < spectrum.power.size(); ++i)
        if (spectrum.frequency(i) >= from_hertz) sum += spectrum.power[i];
    return sum / kNoiseWidth;
}

/// Tooth-passing lines that hum does not explain as well.
int tooth_lines(const SoundFinding& found, const HeardCut& cut) {
    return static_cast<int>(
        std::count_if(found.lines.begin(), found.lines.end(), [&](const HeardLine& heard) {
            return heard.source == LineSource::tooth_passing &&
                   !may_be_hum(heard.line.frequency, found.spectrum.resolution, cut.mains_hertz);
        }));
}

/// What stands at a place of the spectrum.
struct Place {
    double decibels = -300;
    bool stands_out = false;
};

Place place_at(const PowerSpectrum& spectrum, double hertz) {
    const auto nearest = static_cast<std::size_t>(std::lround(hertz / spectrum.step));
    if (nearest < 1 || nearest + 1 >= spectrum.power.size()) return {};
    double most = 1e-300;
    for (std::size_t i = nearest - 1; i <= nearest + 1; ++i)
        most = std::max(most, spectrum.power[i]);
    return {10 * std::log10(most), most > kStandsOut * power_beside(spectrum, nearest)};
}

/// Half-tooth lines over the mean of the tooth-passing lines next to them, dB (the lowest over the
/// one above it), wherever any of the three is heard.
std::vector<double> half_tooth_levels(const SoundFinding& found) {
    double highest = 0;
    for (const HeardLine& heard : found.lines)
        if (heard.source == LineSource::tooth_passing) highest = std::max(highest, *heard.order);
    std::vector<double> levels;
    for (double order = 1; order <= highest; ++order) {
        const auto at = [&](double k) {
            return place_at(found.spectrum, k * found.tooth_passing_hertz);
        };
        const Place half = at(order - 0.5), upper = at(order);
        const Place lower = order > 1 ? at(order - 1) : upper;
        if (half.stands_out || upper.stands_out || lower.stands_out)
            levels.push_back(half.decibels - 0.5 * (lower.decibels + upper.decibels));
    }
    return levels;
}

void compare_half_teeth(SoundFinding& found) {
    std::vector<double> levels = half_tooth_levels(found);
    found.half_tooth_places = static_cast<int>(levels.size());
    if (levels.empty()) return;
    const auto middle = levels.begin() + static_cast<std::ptrdiff_t>(levels.size() / 2);
    std::nth_element(levels.begin(), middle, levels.end());
    found.half_tooth_level = *middle;
}

/// The spectrum without its lines.
std::vector<double> noise_power(const SoundFinding& found) {
    std::vector<double> power = found.spectrum.power;
    for (const HeardLine& heard : found.lines) {
        const auto at =
            static_cast<std::size_t>(std::lround(heard.line.frequency / found.spectrum.step));
        const std::size_t last = std::min(power.size(), at + kBesideLine + 1);
        for (std::size_t i = at > kBesideLine ? at - kBesideLine : 0; i < last; ++i) power[i] = 0;
    }
    return power;
}

/// Mean squares of what is no line, in sixths of an octave from kLowestHump up.
std::vector<double> noise_bands(const SoundFinding& found) {
    std::vector<double> bands;
    const double ratio = std::pow(2.0, 1.0 / 6);
    const std::vector<double> power = noise_power(found);
    for (double from = kLowestHump; from < found.spectrum.frequency(power.size()); from *= ratio) {
        const auto first = static_cast<std::size_t>(from / found.spectrum.step);
        const auto last = static_cast<std::size_t>(from * ratio / found.spectrum.step);
        double sum = 0;
        for (std::size_t i = first; i < std::min(last, power.size()); ++i) sum += power[i];
        bands.push_back(sum / kNoiseWidth);
    }
    return bands;
}

/// Strongest hump of noise, mean square: a sixth of an octave and what is next to it, far above
/// what is a third of an octave away. A mode makes one, where chatter is so wild that it has no
/// lines left; coolant is broader.
double strongest_hump(const SoundFinding& found) {
    const std::vector<double> bands = noise_bands(found);
    double strongest = 0;
    for (std::size_t i = 2; i + 2 < bands.size(); ++i) {
        const double sum = bands[i - 1] + bands[i] + bands[i + 1];
        const bool stands = bands[i] > kHumpStands * std::max(bands[i - 2], bands[i + 2]);
        if (stands) strongest = std::max(strongest, sum);
    }
    return strongest;
}

void mark_family(SoundFinding& found, const ChatterFamily& family) {
    for (const std::size_t i : family.members) {
        HeardLine& heard = found.lines[i];
        heard.source = LineSource::chatter;
        heard.order = heard.line.frequency / found.tooth_passing_hertz;
    }
    found.neighbours = family.neighbours;
}

/// 0.5 at the threshold, 1 where the share is `decades` above it.
double sureness(double share, double threshold, double decades) {
    return 0.5 + 0.5 * std::clamp(std::log10(share / threshold) / decades, 0.0, 1.0);
}

void name_chatter(SoundFinding& found, const ChatterFamily& family, double share) {
    found.cause = family.halfway ? SoundCause::period_doubling : SoundCause::chatter;
    found.chatter_hertz = found.lines[family.members.front()].line.frequency;
    const double alone = found.neighbours == 0 ? 0.6 : (found.neighbours == 1 ? 0.85 : 1);
    found.confidence = sureness(share, kChatter, 0.7) * alone;
}

/// Period doubling with an even number of teeth, on the spindle's own multiples.
void name_half_tooth(SoundFinding& found, const HeardCut& cut) {
    found.cause = SoundCause::period_doubling;
    const HeardLine* strongest = nullptr;
    for (HeardLine& heard : found.lines) {
        if (!is_half_tooth(heard, cut)) continue;
        heard.source = LineSource::chatter;
        heard.order = *heard.order / cut.teeth;
        if (strongest == nullptr || heard.line.power > strongest->line.power) strongest = &heard;
    }
    found.chatter_hertz = strongest->line.frequency;
    // With two teeth every line of runout is a half-tooth line too.
    const double sure = (found.half_tooth_level - kAlternates) / (kAlternatesSurely - kAlternates);
    found.confidence = (0.6 + 0.4 * std::clamp(sure, 0.0, 1.0)) * (cut.teeth == 2 ? 0.9 : 0.95);
    if (found.half_tooth_places < kFewPlaces) found.confidence *= 0.8;
}

void name_forced(SoundFinding& found, double runout_share) {
    const bool uneven = runout_share > kRunout;
    found.cause = uneven ? SoundCause::runout : SoundCause::forced;
    const double away = std::abs(std::log10(std::max(runout_share, 1e-9) / kRunout));
    found.confidence = 0.7 + 0.25 * std::min(1.0, away);
    // Louder than the teeth themselves: a runout line that rings, or chatter locked to the spindle.
    if (runout_share > 1) found.confidence = 0.6;
}

void name_quiet_or_tone(SoundFinding& found, const ChatterFamily& family) {
    const bool loud =
        strongest_hump(found) > kLoudHump * (found.shares.everything - found.shares.hum) ||
        (!family.members.empty() &&
         family.power > kLoudTone * (found.shares.everything - found.shares.hum));
    found.cause = loud ? SoundCause::unclear : SoundCause::quiet;
    found.confidence = loud ? 0.3 : (family.members.empty() ? 0.95 : 0.75);
}

void name_cause(SoundFinding& found, const HeardCut& cut, const ChatterFamily& family) {
    const SoundShares& shares = found.shares;
    const double on_spindle = shares.tooth_passing + shares.half_tooth + shares.spindle;
    const bool neighbours = family.neighbours > 0;
    if (tooth_lines(found, cut) < 1 && !neighbours) return name_quiet_or_tone(found, family);

    const double chatter = family.power / (family.power + on_spindle);
    if (!family.members.empty() && chatter > kChatter) {
        mark_family(found, family);
        return name_chatter(found, family, chatter);
    }
    const bool strong_halves = shares.half_tooth > kHalfTooth * on_spindle;
    if (strong_halves && shares.half_tooth > kOverRunout * shares.spindle &&
        found.half_tooth_level > kAlternates)
        return name_half_tooth(found, cut);
    const bool drowned = on_spindle + family.power < kDrowned * (shares.everything - shares.hum);
    const double hump = strongest_hump(found);
    const bool wild = hump > kWild * (hump + on_spindle);
    if ((neighbours && chatter > kMaybeChatter) || drowned || wild ||
        (strong_halves && found.half_tooth_level > kMayAlternate)) {
        found.cause = SoundCause::unclear;
        found.confidence = 0.4;
        return;
    }
    name_forced(found,
                (shares.half_tooth + shares.spindle) / std::max(shares.tooth_passing, 1e-300));
}

void require_usable(const Recording& recording, const HeardCut& cut) {
    require_positive(recording.rate, "listen", "sampling rate");
    require_positive(cut.revolutions_per_second, "listen", "spindle speed");
    if (cut.teeth < 1) throw std::domain_error("listen: the cutter has no teeth");
    const double least = kLeastRevolutions / cut.revolutions_per_second;
    if (recording.seconds() < least)
        throw std::domain_error("listen: the recording lasts " +
                                std::to_string(recording.seconds()) + " s, must be at least " +
                                std::to_string(least) + " s (8 revolutions)");
}

}  // namespace

SoundFinding listen(const Recording& recording, const HeardCut& cut) {
    require_usable(recording, cut);
    SoundFinding found;
    found.clipped = clipped_share(recording);
    const double window =
        std::max(kWindowSeconds, kRevolutionsInWindow / cut.revolutions_per_second);
    found.spectrum = averaged_spectrum(recording, window);
    const double resolution = found.spectrum.resolution;
    LineSearch search;
    search.to_hertz = std::min(search.to_hertz, 0.46 * recording.rate);
    const std::vector<SpectralLine> lines = spectral_lines(found.spectrum, search);
    found.speed = refine_speed(lines, cut, resolution);
    found.tooth_passing_hertz = found.speed.revolutions_per_second * cut.teeth;
    found.lines = lines_with_sources(lines, cut, found.speed, resolution);
    found.shares = shares_of(found.lines, cut);
    found.shares.everything = all_power(found.spectrum, search.from_hertz);
    if (cut.even_pitch && cut.teeth % 2 == 0) compare_half_teeth(found);
    name_cause(found, cut, chatter_family(found.lines, cut, found.speed, resolution));
    const double everything = found.shares.everything;
    found.shares = shares_of(found.lines, cut);
    found.shares.everything = everything;
    if (found.clipped > kMuchClipping) found.confidence *= 0.9;
    if (!found.speed.refined && found.cause != SoundCause::quiet) found.confidence *= 0.8;
    return found;
}

}  // namespace standfast
