/** What `core` needs of the platform besides the language itself; every browser, worker and Node has it. */
declare class TextDecoder {
  constructor(label?: string, options?: { fatal?: boolean; ignoreBOM?: boolean });
  decode(input?: Uint8Array, options?: { stream?: boolean }): string;
}
declare class TextEncoder {
  encode(input?: string): Uint8Array;
}
declare function atob(text: string): string;
declare namespace WebAssembly {
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Instance {
    constructor(module: Module, imports: { readonly env: { readonly memory: Memory } });
    readonly exports: unknown;
  }
  class Memory {
    constructor(size: { initial: number; maximum?: number; shared?: boolean });
    readonly buffer: ArrayBuffer;
    grow(pages: number): number;
  }
}
