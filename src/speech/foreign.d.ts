declare module "@echogarden/rnnoise-wasm" {
  const create: () => Promise<unknown>;
  export default create;
}

/** The part that is used here; this project has no browser types. */
declare namespace WebAssembly {
  function compile(bytes: Uint8Array): Promise<Module>;
  function instantiate(module: Module, imports: object): Promise<Instance>;
}
