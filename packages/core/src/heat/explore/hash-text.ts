/**
 * A short name for a text: equal texts have equal names, and two of some thousand texts share one less than once in 10¹².
 *
 * Not for keeping secrets or telling forgeries.
 *
 * @returns 16 hexadecimal digits
 * @source [FNV] the 64-bit FNV-1a hash over UTF-8
 */
export function hashText(text: string): string {
  const prime = 0x100000001b3n;
  let hash = 0xcbf29ce484222325n;
  for (const byte of new TextEncoder().encode(text))
    hash = ((hash ^ BigInt(byte)) * prime) & 0xffffffffffffffffn;
  return hash.toString(16).padStart(16, '0');
}
