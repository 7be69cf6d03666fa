/**
 * A second engine for who brings a model: an encoder and a decoder in ONNX of the kind that writes whole sentences, with
 * its tokens. No model ships with the bot and none was to be had where this was written: it is tested only as far as
 * that it loads its native part, and refuses a missing or broken model with a clear line.
 */
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { SPEECH_HZ } from "./engine.js";
import type { Recogniser } from "./recogniser.js";

const BINDING = "sherpa-onnx-node";
/** Such engines give no chance a word; common practice, no source; 0.3 to 0.7. */
const UNKNOWN_CONFIDENCE = 0.5;
const TRIAL_MS = 120_000;

interface Stream {
  acceptWaveform(wave: { readonly samples: Float32Array; readonly sampleRate: number }): void;
}
interface Binding {
  readonly OfflineRecognizer: new (
    config: object,
  ) => {
    createStream(): Stream;
    decode(stream: Stream): void;
    getResult(stream: Stream): { readonly text: string };
  };
}

const load = createRequire(import.meta.url);

/** Throws RangeError with a line for the person who starts the bot. */
export function createModelListener(folder: string): Recogniser {
  const config = configOf(folder);
  let binding: Binding;
  try {
    binding = load(BINDING) as Binding;
  } catch (cause) {
    throw new RangeError(
      `SPEECH_MODEL needs the optional package ${BINDING}, which is not installed`,
      { cause },
    );
  }
  tryOut(folder, config);
  const engine = new binding.OfflineRecognizer(config);
  return {
    recognise(samples) {
      const stream = engine.createStream();
      stream.acceptWaveform({ samples, sampleRate: SPEECH_HZ });
      engine.decode(stream);
      const text = plainSentence(engine.getResult(stream).text);
      if (text === "") return { kind: "trouble", trouble: "silent" };
      const words = text.split(" ").map((word) => ({ word, confidence: UNKNOWN_CONFIDENCE }));
      return {
        kind: "words",
        text,
        confidence: UNKNOWN_CONFIDENCE,
        words,
        others: [],
        doubtful: false,
      };
    },
  };
}

/** `encoder….onnx`, `decoder….onnx` and `….tokens.txt` of one folder. */
function configOf(folder: string): object {
  let names: string[];
  try {
    names = readdirSync(folder).sort();
  } catch (cause) {
    throw new RangeError(`SPEECH_MODEL: there is no folder ${folder}`, { cause });
  }
  const find = (what: string, fits: RegExp): string => {
    const name = names.find((one) => fits.test(one));
    if (name === undefined) throw new RangeError(`SPEECH_MODEL: ${folder} has no ${what}`);
    return join(folder, name);
  };
  return {
    featConfig: { sampleRate: SPEECH_HZ, featureDim: 80 },
    modelConfig: {
      whisper: {
        encoder: find("encoder .onnx file", /encoder.*\.onnx$/),
        decoder: find("decoder .onnx file", /decoder.*\.onnx$/),
        language: "en",
        task: "transcribe",
      },
      tokens: find("tokens .txt file", /tokens\.txt$/),
      numThreads: 1,
      provider: "cpu",
      debug: 0,
    },
  };
}

/** A broken model ends the whole process from within the native part: so another process tries it first. */
function tryOut(folder: string, config: object): void {
  const code = `new (require(process.argv[1]).OfflineRecognizer)(JSON.parse(process.argv[2]))`;
  const args = ["-e", code, load.resolve(BINDING), JSON.stringify(config)];
  const { status } = spawnSync(process.execPath, args, { stdio: "ignore", timeout: TRIAL_MS });
  if (status !== 0) throw new RangeError(`SPEECH_MODEL: the model in ${folder} can not be loaded`);
}

/** Words as reading likes them: no capitals, no stops at the end of words. */
const plainSentence = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[.,!?;:]+(?=\s|$)/g, "")
    .replace(/\s+/g, " ")
    .trim();
