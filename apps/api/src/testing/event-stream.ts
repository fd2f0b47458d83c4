import type { LiveEvent } from '@ashwater/contracts';

export type Heard = { id: string; kind: 'hello' | 'change'; data: LiveEvent };
export type Stream = {
  status: number;
  heard: Heard[];
  changes(): LiveEvent[];
  /** Waits until `wanted` holds of what was heard. Throws after `ms`. */
  until(wanted: (changes: LiveEvent[]) => boolean, ms?: number): Promise<void>;
  /** Resolves when the server ends the stream. */
  ended: Promise<void>;
  close(): void;
};

function readBlock(block: string): Heard | undefined {
  const fields = new Map(
    block
      .split('\n')
      .filter((line) => line.includes(':') && !line.startsWith(':'))
      .map((line) => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 1).trim()]),
  );
  const data = fields.get('data');
  return data === undefined ? undefined : { id: fields.get('id') ?? '', kind: fields.get('event') as Heard['kind'], data: JSON.parse(data) as LiveEvent };
}

/** Opens the live stream over a real connection, as a browser's EventSource would. */
export async function openStream(origin: string, cookie: string, options: { classId?: string; lastEventId?: string } = {}): Promise<Stream> {
  const stopper = new AbortController();
  const answer = await fetch(`${origin}/api/live${options.classId ? `?classId=${options.classId}` : ''}`, {
    headers: { cookie, accept: 'text/event-stream', ...(options.lastEventId === undefined ? {} : { 'last-event-id': options.lastEventId }) },
    signal: stopper.signal,
  });
  const heard: Heard[] = [];
  const changes = () => heard.filter((each) => each.kind === 'change').map((each) => each.data);
  const pump = async () => {
    let rest = '';
    for await (const chunk of answer.body!.pipeThrough(new TextDecoderStream())) {
      const blocks = (rest + chunk).split('\n\n');
      rest = blocks.pop()!;
      heard.push(...blocks.flatMap((block) => readBlock(block) ?? []));
    }
  };
  const ended = pump().catch(() => undefined);
  const until = async (wanted: (changes: LiveEvent[]) => boolean, ms = 5000) => {
    for (const deadline = Date.now() + ms; !wanted(changes()); await new Promise((resolve) => setTimeout(resolve, 10)))
      if (Date.now() > deadline) throw new Error(`not heard in ${ms} ms; heard ${JSON.stringify(heard.slice(-5))}`);
  };
  if (answer.status === 200)
    for (const deadline = Date.now() + 5000; !heard.some((each) => each.kind === 'hello') && Date.now() < deadline;)
      await new Promise((resolve) => setTimeout(resolve, 5));
  return { status: answer.status, heard, changes, until, ended, close: () => stopper.abort() };
}
