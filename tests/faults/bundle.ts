/** Bundles a program of ours into one file, so that a process starts fast enough to be killed 300 times. */
import { cpSync, mkdirSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const PROJECT = fileURLToPath(new URL("../..", import.meta.url));
/** The program lies as deep below its copy of the migrations as the sources do. */
const FOLDER = `${PROJECT}node_modules/.cache/hearth-faults`;

/** Path of the bundled program; packages stay outside. `version`: a program of its own, with more migrations by name. */
export async function bundle(
  entry: string,
  version = "",
  more: Readonly<Record<string, string>> = {},
): Promise<string> {
  const folder = `${FOLDER}${version}`;
  mkdirSync(`${folder}/a/b`, { recursive: true });
  cpSync(`${PROJECT}migrations`, `${folder}/migrations`, { recursive: true });
  for (const [name, sql] of Object.entries(more))
    writeFileSync(`${folder}/migrations/${name}`, sql);
  const name = entry.replace(/\W+/g, "-");
  const outfile = `${folder}/a/b/${name}.mjs`;
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
