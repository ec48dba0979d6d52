import { describe, expect, test } from 'vitest';
import { asMarkup, escapeStyleString, html, keepTogether } from './markup.js';

// The five signs with a meaning of their own in text and quoted attributes: WHATWG HTML, 13.3 (escaping a string), with the
// apostrophe added because attributes may be quoted by it.
test('text from a build cannot become a tag, an entity or the end of an attribute', () => {
  const name = `<script>"it's" & <b>`;
  expect(html`<p title="${name}">${name}</p>`.markup).toBe(
    '<p title="&lt;script&gt;&quot;it&#39;s&quot; &amp; &lt;b&gt;">&lt;script&gt;&quot;it&#39;s&quot; &amp; &lt;b&gt;</p>',
  );
});

test('markup goes in as it is, lists in their order, and nothing for what is not there', () => {
  expect(html`${asMarkup('<i>a</i>')}${['b', html`<u>c</u>`]}${null}${undefined}${false}${0}`.markup).toBe(
    '<i>a</i>b<u>c</u>0',
  );
});

test('characters that HTML forbids are shown, not passed on', () => {
  expect(html`${'a\u0000b\u001bc\td'}`.markup).toBe('a\uFFFDb\uFFFDc\td');
});

describe('a string in a style sheet', () => {
  // CSS Syntax Level 3, 4.3.7: a backslash, up to six hexadecimal digits and one white space stand for a code point.
  const readBack = (text: string) =>
    text.replace(/\\([0-9a-f]{1,6}) /g, (_, code: string) => String.fromCodePoint(Number.parseInt(code, 16)));

  test.each([
    'Reedling R2',
    '"; } body { display: none } "',
    '</style><script>alert(1)</script>',
    'Söhne \\ 中 🔋\n',
  ])('%j reads back as it was', (text) => {
    const escaped = escapeStyleString(text);
    expect(escaped).toMatch(/^[A-Za-z0-9\\ ]*$/);
    expect(readBack(escaped)).toBe(text);
  });
});

test('a number keeps its unit and its doubt in one line; words are left alone', () => {
  expect(keepTogether('53.0 ± 0.5 °C in 2 hours, 7 K left, run 3 was')).toBe(
    '53.0\u00a0±\u00a00.5\u00a0°C in 2 hours, 7\u00a0K left, run 3 was',
  );
});
