/** From one sample rate to another (sinc, libsamplerate compiled to WebAssembly). */
import samplerate from "@alexanderolsen/libsamplerate-js";

/** Samples of one channel at `toHz`. */
export async function resample(
  samples: Float32Array,
  fromHz: number,
  toHz: number,
): Promise<Float32Array> {
  if (fromHz === toHz) return samples;
  const converter = await samplerate.create(1, fromHz, toHz, {
    converterType: samplerate.ConverterType.SRC_SINC_FASTEST,
  });
  try {
    return converter.full(samples);
  } finally {
    converter.destroy();
  }
}
