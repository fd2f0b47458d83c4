import { createServer, request as ask } from 'node:http';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

/** What the link between the devices and the service does: `lose`: writes arrive, nothing comes back; `twice`: writes arrive two times. */
export type LinkState = 'up' | 'down' | 'lose' | 'twice' | 'slow';
export type BadLink = { address: string; state: LinkState; delayMs: number; writes: string[]; become(state: LinkState): void; close(): Promise<void> };

type Got = { status: number; headers: IncomingMessage['headers']; body: Buffer };

async function bodyOf(stream: IncomingMessage): Promise<Buffer> {
  const parts: Buffer[] = [];
  for await (const part of stream) parts.push(part as Buffer);
  return Buffer.concat(parts);
}

/** A link of our own in front of the service, so that a whole device (its service worker too) can be cut off from it. */
export async function badLink(service: string): Promise<BadLink> {
  const target = new URL(service);
  const forward = (from: IncomingMessage, body: Buffer) =>
    new Promise<{ got: Got | null; live: IncomingMessage | null }>((resolve, reject) => {
      const headers = { ...from.headers, 'content-length': String(body.length) };
      const to = ask({ host: target.hostname, port: target.port, path: from.url, method: from.method, headers }, (answer) => {
        // A live stream never ends: it is passed on as it comes.
        if (answer.headers['content-type']?.includes('event-stream')) return resolve({ got: null, live: answer });
        void bodyOf(answer).then((all) => resolve({ got: { status: answer.statusCode ?? 502, headers: answer.headers, body: all }, live: null }), reject);
      });
      to.on('error', reject);
      to.end(body);
    });
  const link: BadLink = { address: '', state: 'up', delayMs: 0, writes: [], become: () => undefined, close: async () => undefined };

  async function carry(from: IncomingMessage, to: ServerResponse): Promise<void> {
    const write = from.method === 'POST';
    const body = await bodyOf(from);
    if (link.state === 'slow') await new Promise((resolve) => setTimeout(resolve, link.delayMs));
    if (link.state === 'down' || (link.state === 'lose' && !write)) return void from.socket.destroy();
    if (write) link.writes.push(String(from.headers['idempotency-key'] ?? from.url));
    const answers = await Promise.all(write && link.state === 'twice' ? [forward(from, body), forward(from, body)] : [forward(from, body)]);
    const { got, live } = answers[0]!;
    if (link.state === 'lose' && write) return void from.socket.destroy();
    if (live) return void live.on('error', () => to.destroy()).pipe(to.writeHead(200, live.headers));
    to.writeHead(got!.status, got!.headers).end(got!.body);
  }
  const server = createServer((from, to) => void carry(from, to).catch(() => from.socket.destroy()));
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  link.address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  // A live stream that stands open breaks as well.
  link.become = (state) => {
    link.state = state;
    if (state === 'down' || state === 'lose') server.closeAllConnections();
  };
  link.close = () =>
    new Promise((resolve) => {
      server.close(() => resolve());
      server.closeAllConnections();
    });
  return link;
}
