/** One way of making a picture, in a process of its own: `ours` from the log's facts to PNG, `plot` from figures ready-made. */
import { readFileSync } from "node:fs";
import { performance } from "node:perf_hooks";

const ROUNDS = 15;
const [way, file = ""] = process.argv.slice(2);

const loadStart = performance.now();
const make = way === "ours" ? await ours() : await plot();
const loadMs = performance.now() - loadStart;
const firstStart = performance.now();
const size = await make();
const firstMs = performance.now() - firstStart;
const times: number[] = [];
for (let round = 0; round < ROUNDS; round += 1) {
  const start = performance.now();
  await make();
  times.push(performance.now() - start);
}
const ms = times.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)];
const peakMb = process.resourceUsage().maxRSS / 1024;
process.stdout.write(`${JSON.stringify({ loadMs, firstMs, ms, peakMb, ...size })}\n`);

async function ours() {
  const { wholePlanOf } = await import("../../src/conversation/index.js");
  const { cardPicture, ingotCard, toSvg } = await import("../../src/report/index.js");
  const { renderPng } = await import("../../src/cli/png.js");
  const { ingotOf } = await import("../report/log.js");
  const { cardFacts } = await import("./card-data.js");
  return async () => {
    const state = ingotOf(cardFacts);
    const card = ingotCard({ state, ...wholePlanOf(state, { pressKn: 200 }) });
    const drawing = cardPicture(card, { length: "mm", temperature: "c" });
    return { png: renderPng(drawing).length, svg: toSvg(drawing).length };
  };
}

/** The peer: a general plotting library's SVG of the same heats, stages and masses, through the same rasteriser. */
async function plot() {
  const { parse, View } = await import("vega");
  const { Resvg } = await import("@resvg/resvg-js");
  const { renderOptions } = await import("../../src/cli/png.js");
  const spec = JSON.parse(readFileSync(file, "utf8"));
  return async () => {
    const svg = await new View(parse(spec), { renderer: "none" }).toSVG();
    return { png: new Resvg(svg, renderOptions()).render().asPng().length, svg: svg.length };
  };
}
