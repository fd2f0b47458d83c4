import { createServer } from 'node:net';

const TRIES = 50;

/**
 * The wanted port, or the next free one above it.
 * @throws Error when none of the fifty ports from the wanted one on is free, or the host is not ours to listen on
 */
export async function freeWebPort(host: string, wanted: number): Promise<number> {
  for (let port = wanted; port < Math.min(wanted + TRIES, 65_536); port += 1) {
    const fault = await tryListen(host, port);
    if (fault === undefined) return port;
    if (fault !== 'EADDRINUSE' && fault !== 'EACCES') throw new Error(`Cannot listen on ${host}: ${fault}. Set HOST to an address of this machine.`);
  }
  throw new Error(`No free port from ${wanted} on. Set PORT to another one.`);
}

function tryListen(host: string, port: number): Promise<string | undefined> {
  return new Promise((resolve) => {
    const server = createServer();
    server.once('error', (error: NodeJS.ErrnoException) => resolve(error.code ?? error.message));
    server.listen({ host, port, exclusive: true }, () => server.close(() => resolve(undefined)));
  });
}

/** PORT as a number; 4310 when it is not set. */
export function wantedPort(value: string | undefined): number {
  if (value === undefined || value.trim() === '') return 4310;
  const port = Number(value);
  if (!Number.isInteger(port) || port < 1 || port > 65_535) throw new Error(`PORT must be a whole number from 1 to 65535, not "${value}".`);
  return port;
}
