/** Noise of a shop, made here: pink noise, a blower, hammer blows. Deterministic, 48 kHz. */
import { type Chance, seeded } from "./seeded.js";

export const NOISES = ["pink", "blower", "hammer"] as const;
export type Noise = (typeof NOISES)[number];
const RATE = 48_000;
const SECONDS = 40;

function white(chance: Chance): Float32Array {
  return Float32Array.from({ length: RATE * SECONDS }, () => chance() * 2 - 1);
}

/** Six leaky sums over white noise: -3 dB an octave within 1 dB in the band of speech (common practice, no source). */
function pink(chance: Chance): Float32Array {
  const poles = [0.99886, 0.99332, 0.969, 0.8665, 0.55, -0.7616];
  const gains = [0.0555179, 0.0750759, 0.153852, 0.3104856, 0.5329522, -0.016898];
  const held = poles.map(() => 0);
  return white(chance).map((value) => {
    let sum = value * 0.5362;
    poles.forEach((pole, i) => {
      held[i] = pole * (held[i] ?? 0) + value * (gains[i] ?? 0);
      sum += held[i] ?? 0;
    });
    return sum * 0.11;
  });
}

/** Air through a pipe: brown and pink noise that swells, and the motor's hum. */
function blower(chance: Chance): Float32Array {
  const rough = pink(chance);
  let low = 0;
  return white(chance).map((value, i) => {
    const t = i / RATE;
    low = 0.995 * low + value * 0.03;
    const swell = 1 + 0.3 * Math.sin(2 * Math.PI * 0.4 * t);
    const hum = 0.03 * Math.sin(2 * Math.PI * 118 * t) + 0.015 * Math.sin(2 * Math.PI * 236 * t);
    return 0.5 * low + 0.35 * (rough[i] ?? 0) * swell + hum;
  });
}

/** Blows on an anvil every half second or so: a knock and four ringing tones, over a soft blower. */
function hammer(chance: Chance): Float32Array {
  const out = blower(chance).map((value) => value * 0.5);
  let at = 0.2;
  while (at < SECONDS - 1) {
    const level = 0.25 + 0.25 * chance();
    const tones = [
      2350 + 200 * chance(),
      3800 + 300 * chance(),
      5900 + 300 * chance(),
      900 + 100 * chance(),
    ];
    const from = Math.floor(at * RATE);
    for (let k = 0; k < RATE * 0.5; k += 1) {
      const t = k / RATE;
      let sum = Math.exp(-60 * t) * (chance() * 2 - 1) * 1.2;
      tones.forEach((hz, i) => {
        sum +=
          (0.5 / (i + 1)) *
          Math.exp(-([14, 20, 30, 45][i] ?? 30) * t) *
          Math.sin(2 * Math.PI * hz * t);
      });
      out[from + k] = (out[from + k] ?? 0) + level * sum;
    }
    at += 0.55 + 0.6 * chance();
  }
  return out;
}

const MAKERS = { pink, blower, hammer } as const;
const made = new Map<Noise, Float32Array>();

export function noiseOf(kind: Noise): Float32Array {
  const known = made.get(kind) ?? MAKERS[kind](seeded(NOISES.indexOf(kind) + 1));
  made.set(kind, known);
  return known;
}
