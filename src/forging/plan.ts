/** The planner's door: from an ingot, a blade and a shop to the ranked routes. */
import { pieceVolumeMm3 } from "../shape/index.js";
import { ATMOSPHERE_FACTOR } from "../steel/index.js";
import { contextOf } from "./context.js";
import { resolveGoal } from "./goal.js";
import { resolveIngot } from "./ingot.js";
import { measuredFire } from "./measured-fire.js";
import { ranked } from "./ranking.js";
import type { Reason } from "./reasons.js";
import { refusalOf } from "./refusal.js";
import { onRoute } from "./resume.js";
import { draftRoute } from "./route-plan.js";
import { splitOutsideTangs } from "./steps.js";
import {
  type Assumption,
  type Plan,
  type PlanRefusal,
  type PlanRequest,
  ROUTES,
  type Shop,
  type WorkState,
} from "./types.js";

/**
 * Plans the forging of one ingot into one blade, or into several of the same kind.
 * Every route that the piece can still take is drawn; those the shop cannot do stand last with what is in the way.
 * Pure: the same request gives the same plan. Unreasonable figures give a refusal that names the field.
 */
export function planForging(request: PlanRequest): Plan | PlanRefusal {
  const shop = request.shop ?? {};
  const refusal = refusedShop(shop) ?? refusedNow(request.now);
  if (refusal) return refusal;
  const ingot = resolveIngot(request.ingot);
  if (ingot.refused) return ingot;
  const blade = resolveGoal(request.blade);
  if (blade.refused) return blade;
  const { now } = request;
  const untaught = contextOf(ingot, request.ingot.pPct, blade.goal, shop);
  const measured = measuredFire(untaught, now);
  const plain = measured === undefined ? untaught : { ...untaught, measured };
  if (now && pieceVolumeMm3(now.piece) * plain.densityGPerMm3 > ingot.ingot.massG * 1.6) {
    return {
      refused: true,
      code: "contradiction",
      field: "now.piece",
      what: "Check the size: the piece is much heavier than the ingot it came from.",
    };
  }
  const routes = request.route ? [request.route] : ROUTES;
  const two = { ...plain, goal: { ...blade.goal, count: 2 } };
  const kept = routes
    .filter((route) => now === undefined || onRoute(route, now))
    .flatMap((route) => {
      const whole = request.split === true ? [] : [draftRoute(plain, route, false, now)];
      if (!wantsSplit(request, route)) return whole;
      const asked = request.split === true || blade.goal.count === 2;
      if (!asked && splitOutsideTangs(two, route) > MOST_OUTSIDE_TANGS) return whole;
      const split = draftRoute(two, route, true, now);
      return asked || split.plan.fits ? [...whole, split] : whole;
    });
  if (kept.length === 0) {
    return {
      refused: true,
      code: "contradiction",
      field: "route",
      what: "This piece cannot go that way any more: choose another route.",
    };
  }
  const plans = ranked(kept);
  const notes: Reason[] = [...ingot.notes, ...(kept[0]?.notes ?? [])];
  if (plain.saidStartC !== undefined && plain.saidStartC > plain.window.ceilingC) {
    notes.push({
      code: "start-over-ceiling",
      startC: plain.saidStartC,
      ceilingC: plain.window.ceilingC,
    });
  }
  return {
    refused: false,
    ingot: ingot.ingot,
    goal: blade.goal,
    window: plain.window,
    routes: plans,
    assumptions: [...ingot.assumptions, ...blade.assumptions, ...shopAssumptions(shop)],
    notes,
  };
}

/** A split that was not asked for is offered while no more of the doubtful middle than this lies outside the tangs. */
const MOST_OUTSIDE_TANGS = 0.5;

/** Only where a middle can go into tangs: pipe to spine or face, one or two blades of one bar, with a tang. */
function wantsSplit(
  { split, blade, route }: PlanRequest,
  each: "spine" | "face" | "end" | "ring",
): boolean {
  if (each === "end" || each === "ring") return false;
  if (split !== undefined) return split;
  const count = blade?.count ?? 1;
  return count === 2 || (count === 1 && route === undefined);
}

function shopAssumptions(shop: Shop): Assumption[] {
  const list: Assumption[] = [];
  if (!shop.pressKn && !shop.hammerKg && !shop.handHammer) {
    list.push({ field: "tool", value: "hand hammer", from: "default" });
  }
  if (
    shop.learned?.lossPerHeatFraction === undefined &&
    shop.learned?.atmosphereFactor === undefined
  ) {
    const { low, likely, high } = ATMOSPHERE_FACTOR;
    const value = `${likely} of bare iron's scale (${low} to ${high})`;
    list.push({ field: "fire", value, from: "default" });
  }
  if (shop.minutesPerHeat === undefined) {
    list.push({ field: "minutesPerHeat", value: "by thickness", from: "default" });
  }
  return list;
}

const refusedShop = (shop: Shop): PlanRefusal | undefined =>
  refusalOf([
    { field: "shop.pressKn", value: shop.pressKn, low: 1, high: 100_000, unit: "kN" },
    { field: "shop.hammerKg", value: shop.hammerKg, low: 0.3, high: 20_000, unit: "kg" },
    { field: "shop.startC", value: shop.startC, low: 600, high: 1300, unit: "°C" },
    { field: "shop.minutesPerHeat", value: shop.minutesPerHeat, low: 0.1, high: 240, unit: "min" },
    {
      field: "shop.learned.lossPerHeatFraction",
      value: shop.learned?.lossPerHeatFraction,
      low: 0,
      high: 0.3,
      unit: "",
    },
    {
      field: "shop.learned.spreadFactor",
      value: shop.learned?.spreadFactor,
      low: 0.2,
      high: 2.5,
      unit: "",
    },
    {
      field: "shop.learned.heatsFactor",
      value: shop.learned?.heatsFactor,
      low: 0.1,
      high: 10,
      unit: "",
    },
    {
      field: "shop.learned.atmosphereFactor",
      value: shop.learned?.atmosphereFactor,
      low: 0,
      high: 5,
      unit: "",
    },
    {
      field: "shop.learned.pipeFactor",
      value: shop.learned?.pipeFactor,
      low: 0,
      high: 10,
      unit: "",
    },
  ]);

function refusedNow(now: WorkState | undefined): PlanRefusal | undefined {
  if (now === undefined) return undefined;
  const sizes = Object.entries(now.piece).flatMap(([key, value]) =>
    typeof value === "number"
      ? [{ field: `now.piece.${key}`, value, low: 0.3, high: 20_000, unit: "mm" }]
      : [],
  );
  const refusal = refusalOf([
    ...sizes,
    { field: "now.massG", value: now.massG, low: 1, high: 30_000, unit: "g" },
  ]);
  if (refusal) return refusal;
  if (now.piece.shape === "ring" && now.piece.innerDiameterMm >= now.piece.outerDiameterMm) {
    return {
      refused: true,
      code: "contradiction",
      field: "now.piece.innerDiameterMm",
      what: "Check the ring: its hole is wider than the ring.",
    };
  }
  return undefined;
}
