#include "fea/studies/sound/sound_finding.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

#include "fea/quantities/require.hpp"
#include "fea/studies/sound/background.hpp"
#include "fea/studies/sound/clipping.hpp"
#include "fea/studies/sound/half_teeth.hpp"
#include "fea/studies/sound/noise_hump.hpp"
#include "fea/studies/sound/sharp_lines.hpp"

namespace standfast {
namespace {

constexpr double kWindowSeconds = 1, kRevolutionsInWindow = 16, kLeastRevolutions = 8;
/// Longest window for the whole, s; and what a line's place is known to, in short resolutions.
constexpr double kLongestWhole = 8, kPlacedWithin = 0.25;
constexpr double kOfNyquist = 0.46;  // of the sampling rate: above, the recorder's filter falls
// Shares of what is on the spindle's multiples and of chatter.
constexpr double kFaintest = 3e-4;  // of a family that is no accident; below lies clipping's own
constexpr double kFaintestClipped = 5e-2;
constexpr double kLone = 0.10, kMaybeLone = 0.03;
constexpr double kMostlyChatter = 0.5;
// Half-tooth lines: of all on the spindle; over its other multiples; over the teeth's lines, in all
// and place by place (dB, median and lower quartile), at so many places.
constexpr double kHalfTooth = 0.15;
constexpr double kOverRunout = 8, kFairlyOverRunout = 20, kSurelyOverRunout = 60;
constexpr double kHalfOfTeeth = 0.5, kLouderThanTeeth = 3;
constexpr double kAlternates = -4.5, kEvenly = -7.5, kEvenlyAlone = -3.1;
constexpr int kSomePlaces = 5, kManyPlaces = 8;
constexpr double kRunout = 0.10;
/// Tones that hold less of the sound than this are drowned.
constexpr double kDrowned = 0.05;
/// Of the sound without hum: what is no silence any more.
constexpr double kLoudTone = 0.02, kLoudHump = 0.3;
/// Share of such a hump beside the teeth at which it may be wild chatter.
constexpr double kWild = 0.1;
constexpr double kMuchClipping = 1e-3;

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
    for (std::size_t i = 0; i < spectrum.power.size(); ++i) {
        if (spectrum.frequency(i) >= from_hertz) sum += spectrum.power[i];
    }
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

void mark_family(SoundFinding& found, const ChatterFamily& family) {
    for (const std::size_t i : family.members) {
        HeardLine& heard = found.lines[i];
        heard.source = LineSource::chatter;
        heard.order = heard.line.frequency / found.tooth_passing_hertz;
    }
}

void name_chatter(SoundFinding& found, const ChatterFamily& family) {
    mark_family(found, family);
    found.cause = family.halfway ? SoundCause::period_doubling : SoundCause::chatter;
    found.chatter_hertz = found.lines[family.members.front()].line.frequency;
    if (family.vouched()) {
        found.confidence = 0.97;
    } else {
        found.confidence = found.family_share > kMostlyChatter ? 0.85 : 0.65;
    }
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
    const SoundShares& shares = found.shares;
    const bool alone = cut.teeth > 2 && shares.half_tooth > kSurelyOverRunout * shares.spindle;
    found.confidence = alone ? 0.9 : 0.65;
}

void name_unclear(SoundFinding& found, Doubt doubt) {
    found.cause = SoundCause::unclear;
    found.doubt = doubt;
    found.confidence = 0.4;
}

/// Order of the loudest tooth-passing line.
double loudest_tooth_order(const SoundFinding& found) {
    const HeardLine* loudest = nullptr;
    for (const HeardLine& heard : found.lines) {
        if (heard.source != LineSource::tooth_passing) continue;
        if (loudest == nullptr || heard.line.power > loudest->line.power) loudest = &heard;
    }
    return loudest == nullptr ? 0 : *loudest->order;
}

void name_forced(SoundFinding& found) {
    const SoundShares& shares = found.shares;
    const double runout =
        (shares.half_tooth + shares.spindle) / std::max(shares.tooth_passing, 1e-300);
    found.cause = runout > kRunout ? SoundCause::runout : SoundCause::forced;
    found.confidence = 0.95;
    if (!found.speed.refined) {
        // So few lines may stand on a multiple of a speed that is only nearly known by accident.
        if (found.cause == SoundCause::runout || loudest_tooth_order(found) > 1) {
            return name_unclear(found, Doubt::noise);
        }
        found.confidence = 0.7;
    }
    // A tone that no multiple explains, however faint.
    if (found.family_share > kFaintest) found.confidence = std::min(found.confidence, 0.85);
}

/// Mean square of tones that are not hum, nor look like it.
double tones_but_hum(const SoundFinding& found, const HeardCut& cut) {
    double sum = 0;
    for (const HeardLine& heard : found.lines) {
        const double hertz = heard.line.frequency;
        const bool hum = may_be_hum(hertz, found.spectrum.resolution, cut.mains_hertz);
        if (!hum) sum += heard.line.power;
    }
    return sum;
}

/// Of noise alone: neither the cut's lines nor the background's.
double hump_of(const SoundFinding& found) {
    std::vector<HeardLine> lines = found.lines;
    for (const SpectralLine& tone : found.background_tones) lines.push_back({.line = tone});
    return strongest_hump(found.spectrum, lines);
}

/// Nothing that only teeth make is heard.
void name_without_teeth(SoundFinding& found, const HeardCut& cut) {
    const SoundShares& shares = found.shares;
    const double heard = shares.everything - shares.hum;
    const double tones = tones_but_hum(found, cut);
    if (tones > kLoudTone * heard) return name_unclear(found, Doubt::lone_tone);
    if (hump_of(found) > kLoudHump * heard) {
        return name_unclear(found, Doubt::noise);
    }
    found.cause = SoundCause::quiet;
    // Noise may hide a cut, and silence sounds the same through an amplifier.
    found.confidence = 0.6;
}

/// What half-tooth lines say where an even number of teeth puts them on the spindle's multiples.
enum class Halves { weak, doubtful, doubled };

/// With two teeth all runout is on the half-tooth lines; only what is as strong as the teeth all
/// along the spectrum is more than runout below the feed can do.
Halves judge_two_teeth(const SoundFinding& found) {
    if (found.half_tooth_level < kAlternates) return Halves::weak;
    const SoundShares& shares = found.shares;
    const bool even = found.half_tooth_low > kEvenlyAlone && found.half_tooth_places >= kSomePlaces;
    return even && shares.half_tooth > kHalfOfTeeth * shares.tooth_passing ? Halves::doubled
                                                                           : Halves::doubtful;
}

/// With more teeth runout is on the spindle's other multiples too.
Halves judge_more_teeth(const SoundFinding& found) {
    const SoundShares& shares = found.shares;
    if (shares.half_tooth < kOverRunout * shares.spindle) return Halves::weak;
    const bool alone = shares.half_tooth > kSurelyOverRunout * shares.spindle;
    const bool evenly = shares.half_tooth > kFairlyOverRunout * shares.spindle &&
                        shares.half_tooth > kLouderThanTeeth * shares.tooth_passing &&
                        found.half_tooth_low > kEvenly && found.half_tooth_places >= kManyPlaces;
    return (alone && found.half_tooth_level > kAlternates) || evenly ? Halves::doubled
                                                                     : Halves::doubtful;
}

Halves judge_halves(const SoundFinding& found, const HeardCut& cut) {
    const SoundShares& shares = found.shares;
    const double on_spindle = shares.tooth_passing + shares.half_tooth + shares.spindle;
    if (shares.half_tooth < kHalfTooth * on_spindle) return Halves::weak;
    if (found.half_tooth_places == 0) return Halves::doubtful;
    return cut.teeth == 2 ? judge_two_teeth(found) : judge_more_teeth(found);
}

void name_cause(SoundFinding& found, const HeardCut& cut, const ChatterFamily& family) {
    const SoundShares& shares = found.shares;
    const double share = found.family_share;
    // Clipping mixes a pump's tone with the teeth, which looks like a family.
    const double faintest = found.clipped > kMuchClipping ? kFaintestClipped : kFaintest;
    if (family.vouched() && share > faintest) return name_chatter(found, family);
    if (tooth_lines(found, cut) < 1) return name_without_teeth(found, cut);
    if (share > kLone) return name_chatter(found, family);

    const Halves halves = judge_halves(found, cut);
    if (halves == Halves::doubled) return name_half_tooth(found, cut);
    if (halves == Halves::doubtful) return name_unclear(found, Doubt::doubled_or_runout);
    const double on_spindle = shares.tooth_passing + shares.half_tooth + shares.spindle;
    const double hump = hump_of(found);
    if (on_spindle + family.power < kDrowned * (shares.everything - shares.hum) ||
        hump > kWild * (hump + on_spindle)) {
        return name_unclear(found, Doubt::noise);
    }
    if (share > kMaybeLone || (family.halfway && share > kFaintest)) {
        return name_unclear(found, Doubt::lone_tone);
    }
    name_forced(found);
}

void require_usable(const Recording& recording, const HeardCut& cut) {
    require_positive(recording.rate, "listen", "sampling rate");
    require_positive(cut.revolutions_per_second, "listen", "spindle speed");
    if (cut.teeth < 1) throw std::domain_error("listen: the cutter has no teeth");
    const double least = kLeastRevolutions / cut.revolutions_per_second;
    if (recording.seconds() < least) {
        throw std::domain_error("listen: the recording lasts " +
                                std::to_string(recording.seconds()) + " s, must be at least " +
                                std::to_string(least) + " s (8 revolutions)");
    }
}

/// Shortest window that still tells the spindle's multiples apart, s.
double window_of(const HeardCut& cut) {
    return std::max(kWindowSeconds, kRevolutionsInWindow / cut.revolutions_per_second);
}

/// Those of `all` whose frequency is not among `kept`.
std::vector<SpectralLine> those_missing(const std::vector<SpectralLine>& all,
                                        const std::vector<SpectralLine>& kept) {
    std::vector<SpectralLine> missing = all;
    std::erase_if(missing, [&](const SpectralLine& line) {
        return std::any_of(kept.begin(), kept.end(), [&](const SpectralLine& other) {
            return other.frequency == line.frequency;
        });
    });
    return missing;
}

/// Lines that last, placed by the whole recording, without the background's.
std::vector<SpectralLine> lines_of(const Recording& recording, const HeardCut& cut,
                                   const PowerSpectrum& whole, const Recording* background,
                                   SoundFinding& found) {
    LineSearch search;
    search.to_hertz = std::min(search.to_hertz, kOfNyquist * recording.rate);
    std::vector<SpectralLine> lines = lasting(spectral_lines(found.spectrum, search), recording);
    found.shares.everything = all_power(found.spectrum, search.from_hertz);
    if (background != nullptr) {
        const PowerSpectrum without = averaged_spectrum(*background, window_of(cut));
        const std::vector<SpectralLine> all = lines;
        lines = without_background(lines, without);
        found.background_tones = those_missing(all, lines);
        const double rest = found.shares.everything - all_power(without, search.from_hertz);
        double tones = 0;
        for (const SpectralLine& line : lines) tones += line.power;
        found.shares.everything = std::max(rest, tones);
    }
    return sharpened(lines, whole, found.spectrum.resolution);
}

void compare_halves(SoundFinding& found, const HeardCut& cut) {
    if (!cut.even_pitch || cut.teeth % 2 != 0) return;
    const HalfTeeth halves =
        compare_half_teeth(found.spectrum, found.lines, found.tooth_passing_hertz);
    found.half_tooth_level = halves.level;
    found.half_tooth_low = halves.low;
    found.half_tooth_places = halves.places;
}

/// Shares of the lines as they are named now; of everything as it was.
void share_out(SoundFinding& found, const HeardCut& cut) {
    const double everything = found.shares.everything;
    found.shares = shares_of(found.lines, cut);
    found.shares.everything = everything;
}

}  // namespace

SoundFinding listen(const Recording& recording, const HeardCut& cut, const Recording* background) {
    require_usable(recording, cut);
    SoundFinding found;
    found.clipped = clipped_share(recording);
    found.spectrum = averaged_spectrum(recording, window_of(cut));
    const PowerSpectrum whole =
        averaged_spectrum(recording, std::min(recording.seconds(), kLongestWhole));
    const std::vector<SpectralLine> lines = lines_of(recording, cut, whole, background, found);
    const double placing = std::max(whole.resolution, kPlacedWithin * found.spectrum.resolution);
    found.speed = refine_speed(lines, cut, placing);
    found.tooth_passing_hertz = found.speed.revolutions_per_second * cut.teeth;
    found.lines = lines_with_sources(lines, cut, found.speed, placing);
    share_out(found, cut);
    compare_halves(found, cut);
    const ChatterFamily family = chatter_family(found.lines, cut, found.speed, placing);
    found.neighbours = family.neighbours;
    found.accident = family.chance;
    const SoundShares& shares = found.shares;
    found.family_share = family.power / std::max(1e-300, family.power + shares.tooth_passing +
                                                             shares.half_tooth + shares.spindle);
    name_cause(found, cut, family);
    share_out(found, cut);
    if (found.clipped > kMuchClipping) found.confidence *= 0.95;
    return found;
}

}  // namespace standfast
