/** What is known of a shop: what was said, and what its log has taught. */
import type { ShopFigures } from "../forging/index.js";
import type { Learned, MeltState, ShopSettings } from "../logbook/index.js";

export interface ShopNow extends ShopSettings {
  /** The shop's own factors, as the planner takes them. */
  readonly learned?: ShopFigures | undefined;
  /** The same with ranges and the ingots behind them. */
  readonly taught?: Learned | undefined;
  /** Its melts of late, in the order they began. */
  readonly melts?: readonly MeltState[] | undefined;
}
