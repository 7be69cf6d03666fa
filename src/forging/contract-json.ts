/** The plan in the words and units of docs/contract.md: rounded figures, unknown fields left out. */
import { type Reason, reasonText } from "./reasons.js";
import type { Plan, RoutePlan, Stage, StagePiece } from "./types.js";

type Json = { readonly [key: string]: unknown };

const rounded = (value: number, digits: number): number => {
  const factor = 10 ** digits;
  return Math.round(value * factor) / factor + 0;
};
const mm = (value: number) => rounded(value, 1);
const g = (value: number) => rounded(value, 1);
const whole = (value: number) => rounded(value, 0);
const texts = (reasons: readonly Reason[]) => reasons.map((reason) => reasonText(reason));

/** Sizes to 0.1 mm; to 0.01 mm under 10 mm, so that volume = mass / density still holds of a thin piece. */
const size = (value: number) => rounded(value, Math.abs(value) < 30 ? 2 : 1);

/** The answer of the `plan` command. A route that this shop cannot do has `fits` false and says why in `against`. */
export function planToContract(plan: Plan): Json {
  const { ingot, window } = plan;
  return {
    ingot: {
      volume_mm3: whole(ingot.volumeMm3),
      mass_g: g(ingot.massG),
      ...(ingot.shapeMassG === undefined ? {} : { shape_mass_g: g(ingot.shapeMassG) }),
      ...(ingot.voidPct === undefined ? {} : { void_pct: rounded(ingot.voidPct, 1) }),
      pipe: {
        depth_mm: mm(ingot.pipe.depthMm),
        diameter_mm: mm(ingot.pipe.diameterMm),
        mass_g: g(ingot.pipe.massG),
      },
    },
    window: {
      floor_c: whole(window.floorC),
      ceiling_c: whole(window.ceilingC),
      acm_c: whole(window.acmC),
      solidus_c: whole(window.solidusC),
    },
    routes: plan.routes.map(routeJson),
  };
}

const routeJson = (route: RoutePlan): Json => ({
  route: route.route,
  split: route.split,
  rank: route.rank,
  fits: route.fits && route.feasible,
  why: texts(route.why),
  against: texts(route.against),
  needed_g: g(route.neededG.likely),
  usable_g: g(route.usableG.likely),
  spare_g: g(route.spareG.likely),
  largest_blade_mm: whole(Math.floor(route.largestBladeMm)),
  loss: {
    pipe_g: g(route.loss.pipeG),
    scale_g: g(route.loss.scaleG),
    trim_g: g(route.loss.trimG),
    grind_g: g(route.loss.grindG),
  },
  heats: { low: route.heats.low, likely: route.heats.likely, high: route.heats.high },
  pattern: {
    cells_thickness: whole(route.pattern.cellsThickness),
    cells_width: whole(route.pattern.cellsWidth),
    band_thickness_um: rounded(route.pattern.bandThicknessUm, 1),
    band_width_um: rounded(route.pattern.bandWidthUm, 1),
  },
  pipe_lies: {
    place: route.pipeLies.place,
    from_mm: mm(route.pipeLies.fromMm),
    to_mm: mm(route.pipeLies.toMm),
    depth_mm: mm(route.pipeLies.depthMm),
  },
  stages: route.stages.map(stageJson),
});

const stageJson = (stage: Stage): Json => ({
  name: stage.name,
  shape: stage.cold.shape,
  ...sizesJson(stage.cold),
  mass_g: g(stage.massG),
  hot: sizesJson(stage.hot),
  heats: stage.heats,
  force_kn: whole(stage.forceKn),
  working_s: whole(stage.workingS),
  watch: texts(stage.watch),
});

function sizesJson(piece: StagePiece): Json {
  switch (piece.shape) {
    case "disc":
      return { diameter_mm: size(piece.diameterMm), height_mm: size(piece.heightMm) };
    case "ring":
      return {
        diameter_mm: size(piece.outerDiameterMm),
        inner_diameter_mm: size(piece.innerDiameterMm),
        height_mm: size(piece.heightMm),
      };
    default:
      return {
        thickness_mm: size(piece.thicknessMm),
        width_mm: size(piece.widthMm),
        length_mm: mm(piece.lengthMm),
      };
  }
}
