/** A drawing as PNG, with the font that travels with the program: fonts of the machine play no part. */
import { writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { Resvg } from "@resvg/resvg-js";
import { type Drawing, FONT_FAMILY, toSvg } from "../report/index.js";
import { Refused } from "./refused.js";

const FONT_PACKAGE = "@expo-google-fonts/source-sans-3";
const FONT_FILES = [
  "400Regular/SourceSans3_400Regular.ttf",
  "600SemiBold/SourceSans3_600SemiBold.ttf",
];

/** Options of every rendering; also for measuring in tests. */
export function renderOptions() {
  const { resolve } = createRequire(import.meta.url);
  return {
    font: {
      loadSystemFonts: false,
      fontFiles: FONT_FILES.map((file) => resolve(`${FONT_PACKAGE}/${file}`)),
      defaultFontFamily: FONT_FAMILY,
      sansSerifFamily: FONT_FAMILY,
    },
    background: "#ffffff",
  };
}

/** PNG bytes, one pixel a picture unit. */
export const renderPng = (drawing: Drawing): Buffer =>
  new Resvg(toSvg(drawing), renderOptions()).render().asPng();

/** Writes the picture. Throws `Refused` when the file cannot be written. */
export async function writePng(file: string, drawing: Drawing): Promise<void> {
  try {
    await writeFile(file, renderPng(drawing), { mode: 0o600 });
  } catch (cause) {
    throw new Refused(`cannot write ${file}: ${(cause as Error).message}`);
  }
}
