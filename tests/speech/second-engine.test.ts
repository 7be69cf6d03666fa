/** The second engine: as far as it can be tested without a model. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { createEars } from "../../src/speech/index.js";
import { createModelListener } from "../../src/speech/second-engine.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "hearth-model-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const put = (name: string): void => writeFileSync(join(folder, name), "not a model");

test.each([
  [[], /no encoder/],
  [["base-encoder.onnx"], /no decoder/],
  [["base-encoder.onnx", "base-decoder.onnx"], /no tokens/],
  [["base-encoder.onnx", "base-decoder.onnx", "base-tokens.txt"], /can not be loaded/],
] as const)("a folder with %j is refused clearly", (names, line) => {
  for (const name of names) put(name);
  expect(() => createModelListener(folder)).toThrow(line);
});

test("no folder at all", () => {
  expect(() => createModelListener(join(folder, "nowhere"))).toThrow(/there is no folder/);
});

test("hearing that can not start says so, and answers notes with a trouble", async () => {
  const ears = createEars({ model: join(folder, "nowhere") });
  await expect(ears.ready()).rejects.toThrow(/there is no folder/);
  expect(await ears.hearBytes(new Uint8Array([1]))).toMatchObject({
    kind: "trouble",
    trouble: "failed",
  });
  await ears.close();
});
