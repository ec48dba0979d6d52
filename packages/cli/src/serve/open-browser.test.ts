import { expect, test } from 'vitest';
import { mayOpenBrowser } from './open-browser.js';

test.each([
  { platform: 'linux', env: { DISPLAY: ':0' }, opens: true },
  { platform: 'linux', env: { WAYLAND_DISPLAY: 'wayland-0' }, opens: true },
  { platform: 'linux', env: {}, opens: false },
  { platform: 'linux', env: { DISPLAY: ':0', CI: 'true' }, opens: false },
  { platform: 'darwin', env: {}, opens: true },
  { platform: 'win32', env: { CI: '1' }, opens: false },
] as const)('on $platform with $env a browser is opened: $opens', ({ platform, env, opens }) => {
  expect(mayOpenBrowser(platform, env)).toBe(opens);
});
