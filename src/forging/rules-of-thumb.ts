/** The planner's rules of thumb. Each is common practice without a source unless one is named, with the range it may be set in. */
import type { Range } from "../steel/index.js";

const range = (low: number, likely: number, high: number): Range => ({ low, likely, high });

/** Share of the steel that lies above the bottom of the pipe zone: why the end route cuts off 30 to 40 % of the bar. */
export const PIPE_TOP_SHARE = range(0.3, 0.35, 0.4);
/** Width of the pipe zone as a share of the ingot's diameter. */
export const PIPE_DIAMETER_SHARE = range(0.3, 0.45, 0.6);
/** Steel taken out with a groove over the steel of the zone itself, when its depth and width were said. */
export const GROOVE_OVER_ZONE = range(1.2, 1.6, 2.4);
/** The same when the zone itself is a guess. */
export const GROOVE_OVER_GUESSED_ZONE = range(0.7, 1.6, 3);
/** Relative error of a pipe depth that was said. */
export const SAID_PIPE_ERROR = 0.15;
/** Share of the hole's cylinder that leaves as the slug; the rest is pushed into the ring. */
export const SLUG_SHARE = range(0.6, 0.8, 1);
/** Pores and gas of an ingot that was not weighed, share of its volume: how far under its sizes it may weigh. */
export const UNWEIGHED_VOID_SHARE = 0.08;
/** A bowl, puck, cone of which only the mass is known: height over diameter. */
export const HEIGHT_SHARE = { bowl: 0.45, puck: 0.5, cone: 0.8 } as const;
/** Bottom over top of a cone of which only the mass is known. */
export const CONE_BOTTOM_SHARE = 0.6;
export const DEFAULT_CARBON_PCT = 1.5;
/** Cooling through freezing of a small crucible left in its furnace, K/min. 3 to 10, [S19] from memory. */
export const DEFAULT_COOLING_K_PER_MIN = 5;
/**
 * Minutes at heat when the shop's were not said: so many, and so many for each mm of volume over surface. ×/÷1.5.
 * A piece comes back dull red, so only the rise and the soak count: 2 to 3 min for a thin bar, 5 for a disc.
 */
export const MINUTES_AT_LEAST = 1;
export const MINUTES_PER_MM = 0.6;
/** Scale is worked for this many minutes a heat and goes with their root. */
export const REFERENCE_MINUTES = 5;

/** Length of a bar that is in the fire at a heat, mm. 100 to 250. */
export const FIRE_LENGTH_MM = 150;

/** Diameter over height up to which a disc is stood on its rim as it is; a flatter one has its rim trued in first. 3 to 4. */
export const RIM_STAND_RATIO = 3.8;
/** Height over thickness of a piece squeezed on edge: from here on with care; from there on it folds. Workshop rule, 2.5 to 3. */
export const EDGE_CARE_RATIO = 2.5;
export const EDGE_LIMIT_RATIO = 4;
/** Height over width of a piece squeezed upright: buckles over this. Memory, high; [S44] gives 3 for one blow. */
export const UPRIGHT_LIMIT_RATIO = 2.5;
/** A rim can be driven in to this share of its diameter to make a stockier disc. 0.8 to 0.95. */
export const RIM_IN_SHARE = 0.85;
/** Wall over height above which a ring tears when opened. 1.2 to 2. */
export const RING_WALL_LIMIT = 1.6;

/** True strain put into this steel in one heat, whatever the tool: more cracks it. 0.2 as cast to 0.6 once worked. */
export const MOST_STRAIN_A_HEAT = 0.4;
/** Bite over height: 0.4 to 0.8 reaches the middle, under 0.5 leaves it unworked. Memory, medium; [S48]. */
export const BITE_OVER_HEIGHT = range(0.5, 0.65, 0.8);
export const LEAST_BITE_MM = 5;
/** Bite of a drawing die on thin work, mm. 12 to 25. */
export const THIN_WORK_BITE_MM = 15;
export const MOST_BITE_MM = 45;
/** Width of a hand hammer's face, mm. 20 to 35. */
export const HAND_BITE_MM = 25;
/** Reduction a pass: 10 to 25 % for soundness. Memory, medium; [S48]. */
export const REDUCTION_PER_PASS = range(0.1, 0.16, 0.25);

/** Seconds a bite under a press, with moving the piece. 1 to 4. */
export const PRESS_SECONDS_PER_BITE = 1.5;
/** Blows a second while the piece is hit, so 54 a minute of a heat by hand (40 to 60), with `TIME_IN_USE`. */
export const HAND_BLOWS_PER_S = 1.2;
export const POWER_BLOWS_PER_S = 2;
/** Energy of a drawing blow by hand, J: 2 kg at 8.7 m/s. 40 to 130; a striker's sledge 150 to 250. Computed, [S53]. */
export const HAND_BLOW_J = 75;
/** Speed of a power hammer's tup, m/s. 4 to 7. */
export const TUP_SPEED_M_PER_S = 5;
/** Share of the blow's energy that forges. 0.6 to 0.9. */
export const BLOW_EFFICIENCY = 0.7;
/** Work over the ideal work: friction and inner shear. 1.1 to 1.5. */
export const REDUNDANT_WORK = 1.2;
/** Share of a press's rating that a planned bite may take. 0.6 to 0.85. */
export const SHARE_OF_RATING = 0.75;
/** Share of the working time in which the piece is hit: fetching it and turning take the rest. */
export const TIME_IN_USE = 0.75;
/** True strain of forging bevels, tapers and tang from the preform. 0.5 to 1. */
export const BLADE_STRAIN = 0.7;
/** Heats for straightening and normalising at the blade stage. 2 to 4. */
export const STRAIGHTENING_HEATS = 2;
/** Heats over the likely heats. */
export const HEATS_SPREAD = range(0.7, 1, 1.5);
/** The same once the shop's own log has taught its heats. 0.75 to 1.35. */
export const TAUGHT_HEATS_SPREAD = range(0.8, 1, 1.25);

/** Stock left a side for grinding off skin and hammer marks, mm. */
export const SIDE_ALLOWANCE_MM = range(0.2, 0.3, 0.5);
/** Thickness of the edge as forged, mm. */
export const FORGED_EDGE_MM = range(0.8, 1, 1.5);
/** Stock left on the width, mm. */
export const WIDTH_ALLOWANCE_MM = 1;
/** Share by which the steel ground off may differ from the likely. */
export const GRIND_SPREAD = 0.4;
/** Steel kept in hand over what the blade takes when the surplus is cut off the block, share of that need. 0.15 to 0.4. */
export const RESERVE_SHARE = 0.25;
/** Surplus worth a cut at the block: at least so much, and that share of the piece. 20 to 60 g, 0.1 to 0.25. */
export const SURPLUS_AT_LEAST_G = 30;
export const SURPLUS_SHARE = 0.15;
/** The bar is cut so much longer than the blade takes, where there is steel; it comes off at the tang. 0.03 to 0.1. */
export const CUT_LONG_SHARE = 0.05;
/** A piece cut off shorter than this many times its width can be neither held nor drawn. 1.2 to 2. */
export const SHORTEST_OVER_WIDTH = 1.5;
/** Heats from one size that is told to the next. 3 to 5. */
export const HEATS_A_SIZE = 4;
/** Length trimmed at each end of the bar as a share of its width: fish tails and cold shuts. */
export const TRIM_OF_WIDTH = range(0.2, 0.4, 0.7);
/** Share of the finished blade's mass that the grinder's hand makes. */
export const FINISH_SPREAD = 0.03;
/** Thickness of the bar over that of the preform, and section left for squeezing on edge. 1.3 to 1.8. */
export const BAR_OVER_PREFORM = 1.5;
/** Tang kept free of doubtful steel before the blade, mm. 10 to 25. */
export const JOIN_CLEAR_MM = 15;
/** Likely loss of cutting a ring open, mm of its length. 1 to 3. */
export const RING_CUT_MM = 2;
