/** What a command of the command line is. */
import type { Config } from "../config.js";

export type Command = (args: readonly string[], config: Config) => Promise<void>;
