/** Where this package lies. Stands beside `main`, so that it is right in the sources and in the flat folder they are bundled into. */
export const packageRoot = new URL('../', import.meta.url);
