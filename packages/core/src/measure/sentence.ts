/**
 * A sentence whose figures can explain themselves: plain text, and figures with how they came about.
 * The page turns `why` into something to touch; the command line and print show the text alone.
 */
export type SentencePart = string | { readonly figure: string; readonly why?: string };
export type Sentence = readonly SentencePart[];

export function plainText(sentence: Sentence): string {
  return sentence.map((part) => (typeof part === 'string' ? part : part.figure)).join('');
}
