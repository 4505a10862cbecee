#pragma once

#include "fea/job/job.hpp"
#include "fea/packing/aggregate_fields.hpp"

namespace standfast {

// The fields of everything that a job is made of.

template <>
inline constexpr std::size_t field_count<SpindleSpeed> = 1;
template <>
inline constexpr std::size_t field_count<AngularFrequency> = 1;
template <>
inline constexpr std::size_t field_count<Source> = 2;
template <>
inline constexpr std::size_t field_count<Material> = 11;
template <>
inline constexpr std::size_t field_count<JointKind> = 25;
template <>
inline constexpr std::size_t field_count<MachineKind> = 15;
template <>
inline constexpr std::size_t field_count<SpindleKind> = 17;
template <>
inline constexpr std::size_t field_count<MechanisticForces> = 7;
template <>
inline constexpr std::size_t field_count<KienzleForces> = 4;
template <>
inline constexpr std::size_t field_count<CuttingData> = 9;
template <>
inline constexpr std::size_t field_count<RoundShape> = 1;
template <>
inline constexpr std::size_t field_count<TubeShape> = 2;
template <>
inline constexpr std::size_t field_count<BlockShape> = 2;
template <>
inline constexpr std::size_t field_count<BoxShape> = 3;
template <>
inline constexpr std::size_t field_count<GeneralShape> = 4;
template <>
inline constexpr std::size_t field_count<JointNumbers> = 6;
template <>
inline constexpr std::size_t field_count<SpringAdjustment> = 4;
template <>
inline constexpr std::size_t field_count<Screws> = 4;
template <>
inline constexpr std::size_t field_count<Dovetail> = 6;
template <>
inline constexpr std::size_t field_count<Jaws> = 5;
template <>
inline constexpr std::size_t field_count<Joint> = 13;
template <>
inline constexpr std::size_t field_count<Table> = 6;
template <>
inline constexpr std::size_t field_count<SpindleSide> = 9;
template <>
inline constexpr std::size_t field_count<Machine> = 17;
template <>
inline constexpr std::size_t field_count<MeasuredMode> = 4;
template <>
inline constexpr std::size_t field_count<HolderStep> = 6;
template <>
inline constexpr std::size_t field_count<CutterSegment> = 3;
template <>
inline constexpr std::size_t field_count<Cutter> = 16;
template <>
inline constexpr std::size_t field_count<ToolChain> = 11;
template <>
inline constexpr std::size_t field_count<RigidBody> = 3;
template <>
inline constexpr std::size_t field_count<SideMass> = 4;
template <>
inline constexpr std::size_t field_count<Placement> = 5;
template <>
inline constexpr std::size_t field_count<Tier> = 9;
template <>
inline constexpr std::size_t field_count<Support> = 8;
template <>
inline constexpr std::size_t field_count<Stack> = 5;
template <>
inline constexpr std::size_t field_count<PassState> = 2;
template <>
inline constexpr std::size_t field_count<Pass> = 20;
template <>
inline constexpr std::size_t field_count<Limits> = 26;
template <>
inline constexpr std::size_t field_count<SpreadFactors> = 2;
template <>
inline constexpr std::size_t field_count<Uncertainty> = 18;
template <>
inline constexpr std::size_t field_count<MeasuredPlace> = 3;
template <>
inline constexpr std::size_t field_count<PushTest> = 10;
template <>
inline constexpr std::size_t field_count<TapTest> = 7;
template <>
inline constexpr std::size_t field_count<ReceptanceTest> = 7;
template <>
inline constexpr std::size_t field_count<WallTest> = 3;
template <>
inline constexpr std::size_t field_count<Measured> = 6;
template <>
inline constexpr std::size_t field_count<FittedTogether> = 2;
template <>
inline constexpr std::size_t field_count<ShelfRiser> = 6;
template <>
inline constexpr std::size_t field_count<TradeHold> = 6;
template <>
inline constexpr std::size_t field_count<ToolStickouts> = 2;
template <>
inline constexpr std::size_t field_count<Trade> = 6;
template <>
inline constexpr std::size_t field_count<Assumption> = 5;
template <>
inline constexpr std::size_t field_count<Job> = 13;

}  // namespace standfast
