/** Server: the stages over HTTP, and the pages. It parses, calls core and answers; it computes nothing itself. */
export type { FaultAnswer } from './answer-error.js';
export { type App, type AppOptions, createApp } from './app.js';
export type { JobLine } from './job-lines.js';
export { type RunningServer, type ServeOptions, serve } from './serve.js';
