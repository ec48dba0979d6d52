import type { Sentence, SentencePart } from '@soakbench/core/measure';
import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

/** The page's answer: the only large type on it. Figures with a reason open it on touch, click or Enter. */
export function Answer({ sentence }: { readonly sentence: Sentence }) {
  return (
    <div class="answer">
      <Words sentence={sentence} />
    </div>
  );
}

/** A sentence at the size of its surroundings, with the same figures that explain themselves. */
export function Words({ sentence }: { readonly sentence: Sentence }) {
  return (
    <>
      {sentence.map((part, index) => {
        const before = sentence[index - 1];
        if (typeof part === 'string')
          return keepTogether(explains(before) ? part.slice(tailOf(part).length) : part);
        if (!explains(part)) return <b key={index}>{keepTogether(part.figure)}</b>;
        const after = sentence[index + 1];
        return (
          // A comma behind a button could begin the next line; in here it cannot.
          <span key={index} class="nb">
            <Figure figure={part.figure} why={part.why} />
            {typeof after === 'string' && tailOf(after)}
          </span>
        );
      })}
    </>
  );
}

function explains(part: SentencePart | undefined): part is { readonly figure: string; readonly why: string } {
  return typeof part === 'object' && part.why !== undefined && part.why !== '';
}

/** The punctuation a text begins with. */
function tailOf(text: string): string {
  return /^[,.:;)]*/.exec(text)?.[0] ?? '';
}

/** What a line may not end within: "set-up", "Run 7", and a figure with its doubt and its unit. */
const oneWord = /(set-ups?|\b[Rr]uns? \d+|[−+]?\d[\d.]*(?: ± \d[\d.]*)? (?:°C|K|mm|Wh|W|h|min|s|%)(?![\w°]))/;

/** Text in which no line ends within what is one word to a reader. */
export function keepTogether(text: string): ComponentChildren {
  return text.split(oneWord).map((piece, index) =>
    index % 2 === 0 ? (
      piece
    ) : (
      <span key={index} class="nb">
        {piece}
      </span>
    ),
  );
}

interface FigureProps {
  readonly figure: string;
  /** How the number came about: from which runs, by which method, from which source. */
  readonly why: ComponentChildren;
}

/** A number that explains itself. */
export function Figure({ figure, why }: FigureProps) {
  const id = useId();
  return (
    <>
      <button type="button" class="why" popovertarget={id}>
        <b>{figure}</b>
      </button>
      <span popover="auto" id={id} class="whybox" role="note" aria-label={`How ${figure} came about`}>
        <span class="whyhead">{figure}</span>
        <span class="whytext">{why}</span>
      </span>
    </>
  );
}

/** Under which conditions the answer holds. */
export function Condition({ children }: { readonly children: ComponentChildren }) {
  return <p class="cond">{typeof children === 'string' ? keepTogether(children) : children}</p>;
}
