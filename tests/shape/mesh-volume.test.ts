/** Our exact volumes against meshes built and measured by a general-purpose geometry library (@jscad/modeling). */
import modeling from "@jscad/modeling";
import { describe, expect, it } from "vitest";
import { type BladeShape, bladeBodyVolumeMm3, pieceVolumeMm3 } from "../../src/shape/index.js";

const { booleans, extrusions, hulls, measurements, primitives, transforms } = modeling;
const SEGMENTS = 256;
/** A fine mesh lies inside the round body: its volume is up to this share too small. Two sine series terms at 256 segments. */
const MESH_ERROR = 0.002;

const near = (ours: number, mesh: number) =>
  expect(Math.abs(ours / mesh - 1), `ours ${ours}, mesh ${mesh}`).toBeLessThan(MESH_ERROR);

describe("volumes against a mesh", () => {
  it("puck, cone with a flat bottom, ring", () => {
    const tube = (outer: number, height: number) =>
      primitives.cylinder({ radius: outer / 2, height, segments: SEGMENTS });
    near(
      pieceVolumeMm3({ shape: "puck", diameterMm: 70, heightMm: 33 }),
      measurements.measureVolume(tube(70, 33)),
    );
    near(
      pieceVolumeMm3({ shape: "cone", diameterMm: 60, heightMm: 50, bottomDiameterMm: 40 }),
      measurements.measureVolume(
        primitives.cylinderElliptic({
          height: 50,
          startRadius: [20, 20],
          endRadius: [30, 30],
          segments: SEGMENTS,
        }),
      ),
    );
    near(
      pieceVolumeMm3({ shape: "ring", outerDiameterMm: 65, innerDiameterMm: 29, heightMm: 18 }),
      measurements.measureVolume(booleans.subtract(tube(65, 18), tube(29, 30))),
    );
  });
  it.each([
    ["a cap", 64, 20],
    ["a half ball", 70, 35],
    ["a half ball with a straight part", 60, 42],
  ])("bowl that is %s: a revolved outline", (_name, diameterMm, heightMm) => {
    const rim = diameterMm / 2;
    const round = Math.min(heightMm, rim);
    const radius = (rim ** 2 + round ** 2) / (2 * round);
    const last = Math.acos(1 - round / radius);
    const outline: [number, number][] = [[0, 0]];
    for (let step = 1; step <= 128; step++) {
      const angle = (step / 128) * last;
      outline.push([radius * Math.sin(angle), radius * (1 - Math.cos(angle))]);
    }
    if (heightMm > round) outline.push([rim, heightMm]);
    outline.push([0, heightMm]);
    const body = extrusions.extrudeRotate(
      { segments: SEGMENTS },
      primitives.polygon({ points: outline }),
    );
    near(
      pieceVolumeMm3({ shape: "bowl", diameterMm, heightMm }),
      Math.abs(measurements.measureVolume(body)),
    );
  });
  it("wedge and diamond blades that taper: hulls of many thin slices", () => {
    const shape = (section: "wedge" | "diamond"): BladeShape => ({
      section,
      lengthMm: 150,
      widthMm: 28,
      thicknessMm: 3.5,
      edgeThicknessMm: 0,
      tipWidthMm: 10,
      tipThicknessMm: 2,
      tangLengthMm: 0,
      tangWidthMm: 1,
      tangThicknessMm: 1,
      fullerWidthMm: 0,
      fullerDepthMm: 0,
    });
    const outlineOf = (section: "wedge" | "diamond", w: number, t: number): [number, number][] =>
      section === "wedge"
        ? [
            [-t / 2, 0],
            [t / 2, 0],
            [0, w],
          ]
        : [
            [0, -w / 2],
            [t / 2, 0],
            [0, w / 2],
            [-t / 2, 0],
          ];
    for (const section of ["wedge", "diamond"] as const) {
      let mesh = 0;
      const parts = 60;
      for (let part = 0; part < parts; part++) {
        const at = (share: number) =>
          transforms.translate(
            [0, 0, 150 * share],
            extrusions.extrudeLinear(
              { height: 1e-3 },
              primitives.polygon({
                points: outlineOf(section, 28 - 18 * share, 3.5 - 1.5 * share),
              }),
            ),
          );
        mesh += measurements.measureVolume(hulls.hull(at(part / parts), at((part + 1) / parts)));
      }
      near(bladeBodyVolumeMm3(shape(section)), mesh);
    }
  });
});
