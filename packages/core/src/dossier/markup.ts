/** A piece of the page that is ready as it stands. Everything else is text and gets escaped on its way in. */
export interface Markup {
  readonly markup: string;
}

export type Content = string | number | Markup | readonly Content[] | null | undefined | false;

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text for an element or a quoted attribute. Control characters, which HTML forbids, become a visible mark. */
export function escapeText(text: string): string {
  return text.replace(/[&<>"']/g, (sign) => entities[sign] ?? sign).replace(/[^\P{Cc}\t\n\r]/gu, '\uFFFD');
}

/** Text for a quoted string in a style sheet: all but plain letters and digits by their code, so nothing can end it early. */
export function escapeStyleString(text: string): string {
  return text.replace(/[^A-Za-z0-9]/gu, (sign) => `\\${(sign.codePointAt(0) ?? 0xfffd).toString(16)} `);
}

/** A number and its unit, or its doubt, stay in one line. */
export function keepTogether(text: string): string {
  return text
    .replace(/(\d) ± (?=\d|under)/g, '$1\u00a0±\u00a0')
    .replace(/(\d) (°C|K\/h|K|kJ\/mol|mAh|Wh|W|mm|min|h|s|%|×)(?![A-Za-z])/g, '$1\u00a0$2');
}

/** Marks a string that is known to be well-formed, such as a drawing, as ready. */
export function asMarkup(markup: string): Markup {
  return { markup };
}

function contentText(content: Content): string {
  if (content === null || content === undefined || content === false) return '';
  if (typeof content === 'string') return escapeText(keepTogether(content));
  if (typeof content === 'number') return String(content);
  if ('markup' in content) return content.markup;
  return content.map(contentText).join('');
}

/**
 * Writes HTML from a template. What is put in between is escaped unless it is markup itself, so a name from a build
 * cannot become a tag. Attributes must be quoted.
 */
export function html(parts: TemplateStringsArray, ...values: readonly Content[]): Markup {
  return { markup: parts.reduce((text, part, index) => text + contentText(values[index - 1]) + part) };
}
