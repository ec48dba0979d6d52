/**
 * A finger that scrolls the page may begin on the rule of a dial, and the browser moves the grip there before it knows better. Once the
 * browser takes the gesture for scrolling, the value goes back to what it was.
 */
export function scrollNotDrag<T>(value: T, onValue: (value: T) => void) {
  return {
    onPointerDown: (event: PointerEvent) => {
      if (event.pointerType !== 'touch') return;
      const rule = event.currentTarget as HTMLElement;
      const end = new AbortController();
      rule.addEventListener('pointercancel', () => onValue(value), { signal: end.signal });
      addEventListener('pointerup', () => end.abort(), { signal: end.signal });
      addEventListener('pointercancel', () => end.abort(), { signal: end.signal });
    },
  };
}
