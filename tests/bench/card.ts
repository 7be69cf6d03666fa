/** The ingot's card as a PNG: time and memory, beside a general plotting library drawing the same figures. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { wholePlanOf } from "../../src/conversation/index.js";
import { type IngotCard, ingotCard } from "../../src/report/index.js";
import { ingotOf } from "../report/log.js";
import { CARD_HEATS, cardFacts } from "./card-data.js";

interface Run {
  readonly loadMs: number;
  readonly firstMs: number;
  readonly ms: number;
  readonly peakMb: number;
  readonly png: number;
  readonly svg: number;
}

export async function benchCard(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "hearth-card-"));
  try {
    const state = ingotOf(cardFacts);
    const card = ingotCard({ state, ...wholePlanOf(state, { pressKn: 200 }) });
    const file = join(folder, "plot.json");
    writeFileSync(file, JSON.stringify(plotOf(card)));
    const ours = child("ours");
    const plot = child("plot", file);
    for (const [name, run] of [
      ["card", ours],
      ["plot by vega", plot],
    ] as const) {
      console.log(
        `${name.padEnd(13)} ${run.ms.toFixed(0)} ms, first ${run.firstMs.toFixed(0)} ms, loading ${run.loadMs.toFixed(0)} ms, peak ${run.peakMb.toFixed(0)} MB, SVG ${(run.svg / 1000).toFixed(0)} kB, PNG ${(run.png / 1000).toFixed(0)} kB`,
      );
    }
    console.log(
      `${CARD_HEATS} heats; the card with its plan and fold takes ${(ours.ms / plot.ms).toFixed(2)} of the plot's time and ${(ours.peakMb / plot.peakMb).toFixed(2)} of its memory`,
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function child(...args: string[]): Run {
  const script = fileURLToPath(new URL("card-child.ts", import.meta.url));
  return JSON.parse(execFileSync("npx", ["tsx", script, ...args], { encoding: "utf8" }));
}

/** Heats by temperature, sizes stage by stage, masses as bars: three charts in one picture as wide as the card. */
function plotOf(card: IngotCard): object {
  const heats = card.heats.list.map(({ number, tempC }) => ({ x: number, y: tempC ?? 0 }));
  const stages = card.stages.flatMap(({ measured, planned }, index) =>
    [measured?.size, planned].flatMap((size) =>
      size?.lengthMm === undefined ? [] : [{ x: index, y: size.lengthMm }],
    ),
  );
  const masses = (card.mass?.parts ?? []).map(({ kind, massG }) => ({ x: kind, y: massG }));
  const chart = (name: string, row: number, points: boolean) => ({
    type: "group",
    encode: {
      enter: { y: { value: 20 + row * 860 }, width: { value: 640 }, height: { value: 760 } },
    },
    scales: [
      {
        name: "x",
        type: points ? "linear" : "band",
        domain: { data: name, field: "x" },
        range: [0, 640],
      },
      { name: "y", domain: { data: name, field: "y" }, range: [760, 0], nice: true, zero: !points },
    ],
    axes: [
      { orient: "bottom", scale: "x", title: name },
      { orient: "left", scale: "y" },
    ],
    marks: [
      {
        type: points ? "symbol" : "rect",
        from: { data: name },
        encode: {
          enter: points
            ? { x: { scale: "x", field: "x" }, y: { scale: "y", field: "y" } }
            : {
                x: { scale: "x", field: "x" },
                width: { scale: "x", band: 0.9 },
                y: { scale: "y", field: "y" },
                y2: { scale: "y", value: 0 },
              },
        },
      },
    ],
  });
  return {
    $schema: "https://vega.github.io/schema/vega/v6.json",
    width: 640,
    height: 2560,
    padding: 40,
    data: [
      { name: "heats", values: heats },
      { name: "stages", values: stages },
      { name: "masses", values: masses },
    ],
    marks: [chart("heats", 0, true), chart("stages", 1, true), chart("masses", 2, false)],
  };
}
