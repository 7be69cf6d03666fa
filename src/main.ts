#!/usr/bin/env node
/** Composition root: the command line. */
import { run } from "./cli/index.js";

process.exitCode = await run(process.argv.slice(2));
