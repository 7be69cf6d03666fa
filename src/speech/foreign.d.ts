declare module "@echogarden/rnnoise-wasm" {
  const create: () => Promise<unknown>;
  export default create;
}
