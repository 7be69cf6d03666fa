/** Bundles a program of ours into one file, so that a process starts fast enough to be killed 300 times. */
import { existsSync, mkdirSync, symlinkSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const PROJECT = fileURLToPath(new URL("../..", import.meta.url));
/** As deep below the link to the migrations as the sources are. */
const FOLDER = `${PROJECT}node_modules/.cache/hearth-faults`;

/** Path of the bundled program; packages stay outside. */
export async function bundle(entry: string): Promise<string> {
  mkdirSync(`${FOLDER}/a/b`, { recursive: true });
  if (!existsSync(`${FOLDER}/migrations`))
    symlinkSync(`${PROJECT}migrations`, `${FOLDER}/migrations`);
  const name = entry.replace(/\W+/g, "-");
  const outfile = `${FOLDER}/a/b/${name}.mjs`;
  await build({
    entryPoints: [`${PROJECT}${entry}`],
    outfile,
    bundle: true,
    packages: "external",
    platform: "node",
    format: "esm",
    target: "node20",
    logLevel: "error",
  });
  return outfile;
}
