import { spawn } from 'node:child_process';

type Environment = Readonly<Record<string, string | undefined>>;

/** Whether there is anyone to open a browser for. */
export function mayOpenBrowser(platform: NodeJS.Platform, env: Environment): boolean {
  if (env['CI']) return false;
  if (platform === 'darwin' || platform === 'win32') return true;
  return Boolean(env['DISPLAY'] || env['WAYLAND_DISPLAY']);
}

/** Opens the address in the person's browser; where that fails, the address stands on the screen all the same. */
export function openBrowser(url: string): void {
  const [command, ...args] =
    process.platform === 'darwin'
      ? ['open', url]
      : process.platform === 'win32'
        ? ['cmd', '/c', 'start', '""', url]
        : ['xdg-open', url];
  const child = spawn(command as string, args, { stdio: 'ignore', detached: true });
  child.on('error', () => undefined);
  child.unref();
}
