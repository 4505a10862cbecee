#include "cli/report/common/words.hpp"

namespace standfast {

std::string_view level_name(Level level) {
    switch (level) {
        case Level::unflagged:
            return "unflagged";
        case Level::marginal:
            return "marginal";
        case Level::avoid:
            break;
    }
    return "avoid";
}

std::string_view level_words(Level level, bool holding_judged) {
    if (level == Level::unflagged) {
        return holding_judged ? "nothing flagged" : "hold not judged";
    }
    return level_name(level);
}

std::string_view level_hatch(Level level, bool holding_judged) {
    switch (level) {
        case Level::unflagged:
            return holding_judged ? ".." : "?.";
        case Level::marginal:
            return "//";
        case Level::avoid:
            break;
    }
    return "##";
}

Ink level_ink(Level level, bool holding_judged) {
    switch (level) {
        case Level::unflagged:
            return holding_judged ? Ink::unflagged : Ink::marginal;
        case Level::marginal:
            return Ink::marginal;
        case Level::avoid:
            break;
    }
    return Ink::avoid;
}

std::string_view reason_name(Reason reason) {
    switch (reason) {
        case Reason::chatter:
            return "chatter";
        case Reason::resonance:
            return "resonance";
        case Reason::deflection:
            return "deflection";
        case Reason::surface_error:
            return "surface error";
        case Reason::holding:
            return "holding";
        case Reason::reach:
            return "reach";
        case Reason::tool_stress:
            return "tool stress";
        case Reason::whirl:
            return "whirl";
        case Reason::overspeed:
            return "overspeed";
        case Reason::cutting_speed:
            return "cutting speed";
        case Reason::power:
            return "power";
        case Reason::weight:
            break;
    }
    return "weight";
}

std::string_view reach_fault_name(ReachFault fault) {
    switch (fault) {
        case ReachFault::too_near:
            return "too near";
        case ReachFault::hits:
            return "hits";
        case ReachFault::tilt:
            return "tilt";
        case ReachFault::travel:
            return "travel";
        case ReachFault::tool_change:
            return "tool change";
        case ReachFault::swing:
            return "swing";
        case ReachFault::none:
            break;
    }
    return "none";
}

std::string_view holding_mode_name(HoldingMode mode) {
    switch (mode) {
        case HoldingMode::lift_off:
            return "lift-off";
        case HoldingMode::slip:
            return "slip";
        case HoldingMode::pull_out:
            return "pull-out";
        case HoldingMode::tip:
            return "tip";
        case HoldingMode::neck_stress:
            return "neck stress";
        case HoldingMode::frees_part:
            break;
    }
    return "frees the part";
}

std::string_view holding_mode_words(HoldingMode mode) {
    switch (mode) {
        case HoldingMode::lift_off:
            return "lifts off";
        case HoldingMode::slip:
            return "slips";
        case HoldingMode::pull_out:
            return "pulls out";
        case HoldingMode::tip:
            return "tips";
        case HoldingMode::neck_stress:
            return "yields at the neck";
        case HoldingMode::frees_part:
            break;
    }
    return "is cut free";
}

std::string_view chatter_kind_name(ChatterKind kind) {
    return kind == ChatterKind::quasi_periodic ? "quasi-periodic" : "period doubling";
}

std::string_view method_name(StabilityMethod method) {
    return method == StabilityMethod::zero_order ? "zero-order" : "periodic";
}

std::string_view milling_words(Milling milling) {
    switch (milling) {
        case Milling::down:
            return "down (climb)";
        case Milling::up:
            return "up (conventional)";
        case Milling::slot:
            break;
    }
    return "slot";
}

}  // namespace standfast
