/**
 * How one piece of work is shared. Every thread runs this module in an instance of its own, all on one memory; each does its
 * rows of the grid, and they wait for each other where one reads what another writes. The first thread gives the work out;
 * helpers wait for it in `serve`. Without the feature `threads` all of this compiles to nothing.
 *
 * What they meet over lies in the first kilobyte of memory, each number on a cache line of its own:
 */
/** Counts pieces of work; helpers watch it. */
const turns: usize = 64;
/** How many have come to where all wait, and how often all have been there. */
const arrived: usize = 128;
const meetings: usize = 192;
/** Ticket of the helpers that are wanted, times 256, and how many of them are there. */
const roll: usize = 256;
/** Threads asleep in either of the two. */
const sleepers: usize = 320;
/** The piece of work. */
const kindOfWork: usize = 384;
const place: usize = 388;
const first: usize = 392;
const second: usize = 400;

/**
 * Tries before a thread goes to sleep, some hundred microseconds: as long as the first thread is by itself on the coarse grids.
 * To be woken takes ten and more, in every cycle again.
 */
const tries: i32 = 200_000;

/** Which of the threads this is, 0 the one that gives work out, and how many take part in the present piece. */
let own: i32 = 0;
let parties: i32 = 1;
/** Of the helpers that were asked for: the roll when all of them are there, and how many threads that makes. */
let whole: i32 = 0;
let all: i32 = 1;
let paused: bool = false;
/** The piece of work that a helper did last. */
let turn: i32 = 0;

// @ts-ignore: decorator
@inline
export function isShared(): bool {
  return parties > 1;
}

// @ts-ignore: decorator
@inline
export function isFirst(): bool {
  return own === 0;
}

/** Row where this thread's share begins, and the first row after it; `bounds` holds where each begins. */
// @ts-ignore: decorator
@inline
export function firstRow(bounds: usize): i32 {
  return parties === 1 ? 0 : load<i32>(bounds + ((<usize>own) << 2));
}

// @ts-ignore: decorator
@inline
export function endRow(bounds: usize, rows: i32): i32 {
  return parties === 1 ? rows : load<i32>(bounds + ((<usize>(own + 1)) << 2));
}

/** Asks for helpers who bring this ticket, in place of those before; `count` threads with the first. With 1, for none. */
export function enlist(ticket: i32, count: i32): void {
  if (!ASC_FEATURE_THREADS) return;
  whole = (ticket << 8) + count - 1;
  all = count;
  atomic.store<i32>(roll, ticket << 8);
  announce(turns, atomic.load<i32>(turns) + 1);
}

/** The first thread goes on without the helpers, or with them again. */
export function pause(isPaused: bool): void {
  paused = isPaused;
}

/** Gives a piece of work out to the helpers, if all of them are there. */
export function giveOut(kind: i32, at: usize, a: f64, b: f64): void {
  if (!ASC_FEATURE_THREADS) return;
  parties = all > 1 && !paused && atomic.load<i32>(roll) === whole ? all : 1;
  if (parties === 1) return;
  store<i32>(kindOfWork, kind);
  store<usize>(place, at);
  store<f64>(first, a);
  store<f64>(second, b);
  announce(turns, atomic.load<i32>(turns) + 1);
}

/** A helper reports; false where another ticket is wanted by now. */
export function checkIn(ticket: i32, index: i32, count: i32): bool {
  own = index;
  turn = atomic.load<i32>(turns);
  while (true) {
    const present = atomic.load<i32>(roll);
    if (present >> 8 !== ticket) return false;
    if (atomic.cmpxchg<i32>(roll, present, present + 1) === present) break;
  }
  parties = count;
  return true;
}

/** A helper waits for the next piece of work; false where it is not wanted any more. */
export function awaitWork(ticket: i32): bool {
  awaitChange(turns, turn);
  turn = atomic.load<i32>(turns);
  return atomic.load<i32>(roll) >> 8 === ticket;
}

// @ts-ignore: decorator
@inline
export function givenKind(): i32 {
  return load<i32>(kindOfWork);
}

// @ts-ignore: decorator
@inline
export function givenPlace(): usize {
  return load<usize>(place);
}

// @ts-ignore: decorator
@inline
export function givenFirst(): f64 {
  return load<f64>(first);
}

// @ts-ignore: decorator
@inline
export function givenSecond(): f64 {
  return load<f64>(second);
}

/** Returns when every thread that takes part has come here. What each wrote before it, all see after it. */
export function meet(): void {
  if (!ASC_FEATURE_THREADS) return;
  if (parties === 1) return;
  const before = atomic.load<i32>(meetings);
  if (atomic.add<i32>(arrived, 1) + 1 === parties) {
    atomic.store<i32>(arrived, 0);
    announce(meetings, before + 1);
  } else awaitChange(meetings, before);
}

/** Between this and `together` the first thread goes on by itself, as if there were no others. */
export function alone(): void {
  parties = 1;
}

export function together(): void {
  parties = all;
}

function announce(at: usize, value: i32): void {
  atomic.store<i32>(at, value);
  if (atomic.load<i32>(sleepers) > 0) wake(at);
}

function awaitChange(at: usize, value: i32): void {
  let slept = 0;
  while (true) {
    for (let tried = 0; tried < tries; tried++) if (atomic.load<i32>(at) !== value) return;
    atomic.add<i32>(sleepers, 1);
    sleep(at, value, slept++);
    atomic.sub<i32>(sleepers, 1);
  }
}

/**
 * Sleeps while the number at an address has a value, for a time at most; wakes all who do. Functions of the outside and not
 * instructions: V8 11.3, that of Node 20, loses local variables over `memory.atomic.wait32` in code that it has not optimised yet.
 */
@external('env', 'sleep')
declare function sleep(at: usize, value: i32, slept: i32): void;

@external('env', 'wake')
declare function wake(at: usize): void;
