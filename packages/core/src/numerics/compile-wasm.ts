const compiled = new Map<string, WebAssembly.Module>();

/**
 * A module carried as text, compiled when it is first asked for, once per thread.
 *
 * @param text the module in base64, as scripts/build-wasm-modules.mjs writes it
 * @throws whatever the platform throws that has no WebAssembly, not all of what the module needs, or a policy against it
 */
export function compileWasm(text: string): WebAssembly.Module {
  const module =
    compiled.get(text) ??
    new WebAssembly.Module(Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)));
  compiled.set(text, module);
  return module;
}
