import { expect, test } from 'vitest';
import { LatestWish } from './latest-wish.js';

/** A worker whose answers are given by hand. */
function makeWorker() {
  const open: { wish: number; give: (answer: string) => void; fail: (error: Error) => void }[] = [];
  const answers: [number, string][] = [];
  const errors: unknown[] = [];
  const queue = new LatestWish<number, string>(
    (wish) => new Promise((give, fail) => open.push({ wish, give, fail })),
    (wish, answer) => answers.push([wish, answer]),
    (error) => errors.push(error),
  );
  return { open, answers, errors, queue };
}
const settle = () => new Promise((resolve) => setTimeout(resolve));

test('one at a time, and the newest next: what was wished in between is passed over', async () => {
  const { open, answers, queue } = makeWorker();
  for (const wish of [1, 2, 3, 4]) queue.ask(wish);
  expect(open.map(({ wish }) => wish)).toEqual([1]);
  open[0]?.give('one');
  await settle();
  expect(open.map(({ wish }) => wish)).toEqual([1, 4]);
  expect(queue.busy).toBe(true);
  open[1]?.give('four');
  await settle();
  expect(answers).toEqual([
    [1, 'one'],
    [4, 'four'],
  ]);
  expect(queue.busy).toBe(false);
});

test('an answer that fails is told, and the next wish is answered all the same', async () => {
  const { open, answers, errors, queue } = makeWorker();
  queue.ask(1);
  queue.ask(2);
  open[0]?.fail(new Error('no'));
  await settle();
  open[1]?.give('two');
  await settle();
  expect(errors).toHaveLength(1);
  expect(answers).toEqual([[2, 'two']]);
});

test('what waits can be forgotten, and after the end nothing is answered', async () => {
  const { open, answers, queue } = makeWorker();
  queue.ask(1);
  queue.ask(2);
  queue.forget();
  open[0]?.give('one');
  await settle();
  expect(open).toHaveLength(1);
  queue.ask(3);
  queue.close();
  open[1]?.give('three');
  await settle();
  expect(answers).toEqual([[1, 'one']]);
});
