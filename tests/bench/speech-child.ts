/** One way of hearing in a process of its own: `tsx speech-child.ts ours|jsgf FOLDER FILE…`; prints one JSON line. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { createCleaner } from "../../src/speech/clean.js";
import { dictionaryLines, waysToSay } from "../../src/speech/dictionary.js";
import { Engine, featuresFile } from "../../src/speech/engine.js";
import { spokenWords } from "../../src/speech/figure-words.js";
import { grammarText } from "../../src/speech/grammar-text.js";
import { createListener } from "../../src/speech/listener.js";
import { openNote } from "../../src/speech/open-note.js";
import { third } from "../../src/speech/third.js";

/** A whole number, as a grammar would have it. */
const WHOLE = `
<digit> = one | two | three | four | five | six | seven | eight | nine ;
<teens> = ten | eleven | twelve | thirteen | fourteen | fifteen | sixteen | seventeen | eighteen | nineteen ;
<tens> = twenty | thirty | forty | fifty | sixty | seventy | eighty | ninety ;
<below> = <digit> | <teens> | <tens> [<digit>] ;
<whole> = <below> | (<digit> | a) hundred [[and] <below>] | <below> <below> | (one | a) thousand [[and] <below>] ;
`;
const [way, folder = "", ...files] = process.argv.slice(2);
const START = performance.now();

async function plainJsgf(): Promise<(samples: Float32Array) => string> {
  const asked = new Set(grammarText((word) => word).match(/[a-z']+/g) ?? []);
  const known = waysToSay(asked);
  // Every figure is any whole number here: JSGF has no place for what the shop knows.
  const grammar = grammarText((word) =>
    /^[a-z]+$/.test(word) && known.has(word) ? word : undefined,
  )
    .replace(/#[a-z]+/g, "<whole>")
    // Its parser wants all choices of a rule weighed, or none.
    .replace(/\/[\d.]+\//g, "")
    .concat(WHOLE);
  const words = new Set([...(grammar.match(/[a-z']+/g) ?? []), ...spokenWords()]);
  const dictionary = join(folder, "jsgf.dict");
  writeFileSync(dictionary, `${dictionaryLines(waysToSay(words)).join("\n")}\n`);
  const engine = await Engine.create(dictionary, featuresFile(join(folder, "features.json")));
  engine.setJsgf(grammar);
  return (samples) => engine.decode(samples).text;
}

const clean = way === "ours" ? await createCleaner() : undefined;
const listener = way === "ours" ? await createListener() : undefined;
const plain = way === "jsgf" ? await plainJsgf() : undefined;
const readyMs = performance.now() - START;
let speechS = 0;
const heard: string[] = [];
const from = performance.now();
const cpuFrom = process.cpuUsage();
for (const file of way === "jsgf" ? files.slice(0, 2) : files) {
  const note = await openNote(readFileSync(file));
  if (!("samples" in note)) continue;
  speechS += note.durationS;
  const samples = third(clean?.(note.samples) ?? note.samples);
  const result = listener?.recognise(samples, undefined);
  heard.push(
    plain?.(samples) ?? (result?.kind === "words" ? result.text : (result?.trouble ?? "")),
  );
}
// A grammar that the engine could not follow hears nothing, fast: no peer.
if (heard.every((words) => words === "")) throw new RangeError(`${way} heard nothing`);
const work = (performance.now() - from) / 1000 / speechS;
const cpu = process.cpuUsage(cpuFrom);
const cpuWork = (cpu.user + cpu.system) / 1e6 / speechS;
console.log(
  JSON.stringify({ readyMs, work, cpuWork, peakMb: process.resourceUsage().maxRSS / 1024, heard }),
);
