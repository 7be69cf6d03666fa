/** 100,000 random and mutated updates: no crash, no unhandled rejection, memory flat, marks escaped. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { bundle } from "./bundle.js";
import { type Chance, chanceFrom } from "./chance.js";
import { pause, type Running, run, until } from "./running.js";
import { type FaultServer, openFaultServer, type Update } from "./server.js";
import { openShop, type Shop } from "./shop.js";
import { FIRST_SMITH, talk } from "./talk.js";

const UPDATES = Number(process.env.FAULTS_UPDATES ?? 100_000);
const SEED = Number(process.env.FAULTS_SEED ?? 31);
/** Updates open at the server at once, so that memory shows the bot's own. */
const OPEN = 400;
const HEAP_MIB = 100;
const SMITHS = Array.from({ length: 20 }, (_, index) => FIRST_SMITH + index);

let shop: Shop;
let server: FaultServer;
let bot: Running;

beforeAll(async () => {
  const program = await bundle("tests/faults/bot-process.ts");
  shop = await openShop(SMITHS);
  server = await openFaultServer(chanceFrom(SEED));
  // A bot that kept what it should let go of would end for want of memory.
  const env = { LIMITS: "none", HEAR: "noise", NODE_OPTIONS: `--max-old-space-size=${HEAP_MIB}` };
  bot = run(program, [], { ...shop.env(server), ...env });
  expect(await bot.ready).toBe(true);
});
afterAll(async () => {
  await bot.kill("SIGKILL");
  await server.close();
  shop.remove();
});

const STRANGE = [
  "\u0000",
  "\u202egnirts",
  "<b>bold</b> <script>&amp;",
  "½ ¾ ⅝ ⅞ 𝟛𝟜 ٣ 四",
  "\ud800",
  "🔥".repeat(500),
  "9".repeat(400),
  "-1e309 by NaN by Infinity",
  "'; DROP TABLE entry; --",
  "$" + "{7*7} {{7*7}} %s%n",
  "heat ".repeat(800),
  "22 by 36 by 180 ".repeat(200),
  "/start ".repeat(20),
  "((((((((((((((((((((((((((((((((((((((((",
  "a".repeat(30_000),
  "\n\n\n\n",
  "",
  " ",
];

function junk(chance: Chance, depth = 0): unknown {
  const kinds = depth > 3 ? 6 : 9;
  switch (chance.below(kinds)) {
    case 0:
      return null;
    case 1:
      return chance.hits(0.5);
    case 2:
      return chance.pick([0, -1, 1e308, 2 ** 53, 0.1, -0, chance.below(1e9)]);
    case 3:
      return chance.pick(STRANGE);
    case 4:
      return String.fromCharCode(
        ...Array.from({ length: chance.below(40) }, () => chance.below(65_536)),
      );
    case 5:
      return "";
    case 6:
      return Array.from({ length: chance.below(5) }, () => junk(chance, depth + 1));
    default:
      return Object.fromEntries(
        Array.from({ length: chance.below(6) }, () => [
          chance.pick([
            "id",
            "chat",
            "from",
            "text",
            "date",
            "voice",
            "photo",
            "data",
            "__proto__",
            "x",
          ]),
          junk(chance, depth + 1),
        ]),
      );
  }
}

/** Changes one place of a good update. */
function mutate(value: unknown, chance: Chance): unknown {
  if (typeof value === "string" && chance.hits(0.5)) {
    const at = chance.below(value.length + 1);
    return value.slice(0, at) + chance.pick(STRANGE) + value.slice(at + chance.below(4));
  }
  if (typeof value !== "object" || value === null) return junk(chance);
  const keys = Object.keys(value);
  const key = keys.length > 0 ? chance.pick(keys) : "x";
  const copy: Record<string, unknown> = { ...(value as Record<string, unknown>) };
  if (chance.hits(0.1)) delete copy[key];
  else if (chance.hits(0.15)) copy[key] = junk(chance);
  else copy[key] = mutate(copy[key], chance);
  return copy;
}

function good(index: number, chance: Chance): Update {
  const smith = chance.pick(SMITHS);
  const message = {
    message_id: index + 1,
    date: 1_772_438_400 + index,
    chat: { id: smith, type: "private" },
    from: { id: smith, is_bot: false, first_name: "Wenna" },
  };
  const data = chance.pick([
    "abc123:undo",
    "abc123:q:next",
    "door-remove:5001",
    "forget:no:x",
    ":",
    "x",
  ]);
  return chance.pick([
    () => ({ update_id: index, message: { ...message, text: chance.pick(WORDS) } }),
    () => ({ update_id: index, message: { ...message, text: chance.pick(WORDS) } }),
    () => ({
      update_id: index,
      edited_message: { ...message, edit_date: 5, text: chance.pick(WORDS) },
    }),
    () => ({
      update_id: index,
      callback_query: { id: `c${index}`, from: message.from, message, data },
    }),
    () => ({
      update_id: index,
      message: { ...message, voice: { file_id: `v${index}`, duration: 3 } },
    }),
    () => ({ update_id: index, message: { ...message, photo: [], caption: chance.pick(WORDS) } }),
    () => ({ update_id: index, message: { ...message, sticker: {} } }),
  ])();
}
const WORDS = talk(4, 50, chanceFrom(5)).map((update) =>
  String((update as { message?: { text: string } }).message?.text ?? "next"),
);

test(`${UPDATES} random and mutated updates`, async () => {
  const chance = chanceFrom(SEED);
  const memory: number[] = [];
  const begun = performance.now();
  for (let index = 0; index < UPDATES; index += 1) {
    const kind = chance.next();
    const update =
      kind < 0.2 ? { ...(junk(chance) as object | null), update_id: index } : good(index, chance);
    const given = kind < 0.9 && kind >= 0.2 ? mutate(update, chance) : update;
    server.give({ ...(given as object), update_id: index } as Update);
    if (index % 100 === 0) {
      await until(
        () => server.open() < OPEN || bot.child.exitCode !== null,
        60_000,
        "the bot keeps up",
      );
      if (bot.child.exitCode !== null) break;
    }
    if (index % Math.ceil(UPDATES / 40) === 0) memory.push(bot.memory());
  }
  await until(() => server.open() === 0 || bot.child.exitCode !== null, 120_000, "all are taken");
  expect(bot.child.exitCode, bot.output().slice(-2000)).toBeNull();
  await pause(200);
  expect(bot.output()).not.toContain("UNHANDLED");
  const stumbles = bot.output().match(/update not taken/g)?.length ?? 0;
  for (const { text } of server.sent) {
    if (!text.startsWith("{") && /<(?!\/?b>)/.test(text)) throw new Error(`not escaped: ${text}`);
  }
  // Flat: the last quarter of the run needs no more than the second, a little breathing aside.
  const quarter = Math.floor(memory.length / 4);
  const most = (from: number): number => Math.max(...memory.slice(from, from + quarter));
  const mib = (bytes: number): number => Math.round(bytes / 1_048_576);
  console.log(
    `${UPDATES} updates in ${Math.round((performance.now() - begun) / 1000)} s, ${server.sent.length} sends, ` +
      `${stumbles} tries tripped; memory ${memory.map(mib).join(" ")} MiB`,
  );
  expect(most(memory.length - quarter)).toBeLessThan(most(quarter) * 1.25 + 16 * 1_048_576);
  expect(stumbles).toBe(0);
});
