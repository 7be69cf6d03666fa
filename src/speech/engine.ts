/**
 * The engine's decoder (PocketSphinx's search compiled to WebAssembly, with its 8 kHz English model). One for all grammars:
 * each decoder costs a heap of its own. Never deleted: decoders made and deleted in one module were seen to crash.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import createModule, { type Decoder } from "soundswallower";
import { type Automaton, SILENT } from "./automaton.js";

export const SPEECH_HZ = 16_000;
/** Frames a second of the engine's scores. */
export const FRAMES_PER_S = 100;

/** What the package exports beside its typed surface. */
interface RawEngine {
  readonly HEAP8: Int8Array;
  readonly HEAP32: Int32Array;
  _malloc(bytes: number): number;
  _free(at: number): void;
  _decoder_logmath(decoder: number): number;
  _logmath_log(logmath: number, chance: number): number;
  _fsg_model_init(name: number, logmath: number, weight: number, states: number): number;
  _fsg_model_word_add(fsg: number, word: number): number;
  _fsg_model_trans_add(fsg: number, from: number, to: number, logp: number, word: number): void;
  _fsg_model_null_trans_add(fsg: number, from: number, to: number, logp: number): number;
  _fsg_set_states(fsg: number, start: number, end: number): void;
  _decoder_set_fsg(decoder: number, fsg: number): number;
  _decoder_hyp(decoder: number, score: number): number;
}

export interface Beams {
  readonly beam: number;
  readonly pbeam: number;
  readonly wbeam: number;
}
/** Wide: measured best for commands. */
export const COMMAND_BEAMS: Beams = { beam: 1e-60, pbeam: 1e-60, wbeam: 1e-40 };
export const LOOP_BEAMS: Beams = { beam: 1e-20, pbeam: 1e-20, wbeam: 1e-20 };
/** Of plain talk: narrower ones lose the way in noise. */
export const TALK_BEAMS: Beams = { beam: 1e-30, pbeam: 1e-30, wbeam: 1e-20 };

/** Engine's steps of a score to one of a natural logarithm: base 1.0001, shifted by ten bits. */
export const STEPS_A_NAT = 1 / Math.log(1.0001) / 1024;
const LARGE = 5000;
const ONE_WORD: Automaton = {
  states: 2,
  start: 0,
  arcs: [{ from: 0, to: 1, chance: 1, word: "one" }],
  ends: [0, 1],
};

export interface Decoded {
  /** Empty if nothing was found. */
  readonly text: string;
  /** Log probability in the engine's own steps; -Infinity without a text. */
  readonly score: number;
}

export const modelFolder = (): string =>
  join(dirname(fileURLToPath(import.meta.resolve("soundswallower"))), "model/");

export class Engine {
  private readonly raw: RawEngine;
  private readonly decoder: Decoder & { readonly cdecoder: number };

  private constructor(raw: RawEngine, decoder: Decoder) {
    this.raw = raw;
    this.decoder = decoder as Engine["decoder"];
  }

  /** `dictionary` and `features`: paths of a dictionary file and of one by `featuresFile`. */
  static async create(dictionary: string, features: string): Promise<Engine> {
    const module = await createModule({ modelBase: modelFolder() } as never);
    const decoder = new module.Decoder({
      samprate: SPEECH_HZ,
      loglevel: "FATAL",
      dict: dictionary,
      featparams: features,
      ...COMMAND_BEAMS,
    });
    await decoder.initialize();
    return new Engine(module as unknown as RawEngine, decoder);
  }

  /** Steps of the score that a natural logarithm of a chance of the grammar weighs. */
  get stepsOfChance(): number {
    return STEPS_A_NAT * Number(this.decoder.get_config("lw"));
  }

  /** Sentences to look for. Throws RangeError if a word has no pronunciation. */
  setAutomaton(automaton: Automaton, beams: Beams = COMMAND_BEAMS): void {
    // The grammar before is let go first: two large ones at once would make the engine's memory grow for good.
    if (automaton.arcs.length > LARGE) this.setAutomaton(ONE_WORD);
    const { raw } = this;
    // Read by the engine whenever a grammar is given to it.
    for (const [name, width] of Object.entries(beams)) this.decoder.set_config(name, width);
    const weight = Number(this.decoder.get_config("lw"));
    const logmath = raw._decoder_logmath(this.decoder.cdecoder);
    const log = (chance: number): number => Math.round(raw._logmath_log(logmath, chance) * weight);
    const fsg = this.withWord("note", (name) =>
      raw._fsg_model_init(name, logmath, weight, automaton.states + 1),
    );
    const ids = new Map<string, number>();
    for (const { word } of automaton.arcs) {
      if (word !== SILENT && !ids.has(word))
        ids.set(
          word,
          this.withWord(word, (at) => raw._fsg_model_word_add(fsg, at)),
        );
    }
    for (const { from, to, chance, word } of automaton.arcs) {
      if (word === SILENT) raw._fsg_model_null_trans_add(fsg, from, to, log(chance));
      else raw._fsg_model_trans_add(fsg, from, to, log(chance), ids.get(word) ?? 0);
    }
    automaton.ends.forEach((chance, state) => {
      if (chance > 0) raw._fsg_model_null_trans_add(fsg, state, automaton.states, log(chance));
    });
    raw._fsg_set_states(fsg, automaton.start, automaton.states);
    if (raw._decoder_set_fsg(this.decoder.cdecoder, fsg) < 0) {
      throw new RangeError("the engine refused the grammar: a word without a pronunciation");
    }
  }

  setJsgf(text: string): void {
    this.decoder.set_grammar(text);
  }

  /** The best sentence for 16 kHz samples. */
  decode(samples: Float32Array): Decoded {
    this.decoder.start();
    this.decoder.process_audio(samples, false, true);
    this.decoder.stop();
    const text = plain(this.decoder.get_text());
    if (text === "") return { text, score: Number.NEGATIVE_INFINITY };
    const at = this.raw._malloc(4);
    this.raw._decoder_hyp(this.decoder.cdecoder, at);
    const score = this.raw.HEAP32[at >> 2] ?? 0;
    this.raw._free(at);
    return { text, score };
  }

  /** Words of the last decoding with start and length in seconds and a chance each. */
  words(): { word: string; fromS: number; lengthS: number; chance: number }[] {
    return (this.decoder.get_alignment().w ?? [])
      .map(({ t, b, d, p }) => ({ word: plain(t), fromS: b, lengthS: d, chance: p }))
      .filter(({ word }) => word !== "");
  }

  private withWord<T>(word: string, use: (at: number) => T): T {
    const bytes = Buffer.from(`${word}\0`);
    const at = this.raw._malloc(bytes.length);
    this.raw.HEAP8.set(bytes, at);
    const result = use(at);
    this.raw._free(at);
    return result;
  }
}

/**
 * The model's own settings of its ears, but for its noise reduction: after ours it eats soft sounds of real voices
 * (docs/voice.md). Written to `file`.
 */
export function featuresFile(file: string): string {
  const own = JSON.parse(readFileSync(join(modelFolder(), "en-us", "feat_params.json"), "utf8"));
  writeFileSync(file, JSON.stringify({ ...own, remove_noise: false }));
  return file;
}

const plain = (text: string): string =>
  text
    .replace(/\(\d+\)|<[^>]*>|\(NULL\)|\[[^\]]*\]/g, "")
    .replace(/\s+/g, " ")
    .trim();
