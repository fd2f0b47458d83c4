/** A request to stop, by Ctrl-C, SIGTERM or a closed terminal. */
export interface StopRequest {
  /** Settles at the first request. */
  promise: Promise<undefined>;
  asked: boolean;
  /** What to do at the second request, before leaving at once. */
  force: () => void;
}

// npm and the bootstrap pass a signal on that the terminal has sent to every process already: that is one request.
const SAME_REQUEST_MS = 800;

/** Watches for requests to stop, from now on. */
export function onStopRequest(): StopRequest {
  const { promise, resolve } = Promise.withResolvers<undefined>();
  const request: StopRequest = { promise, asked: false, force: () => undefined };
  let firstAt = 0;
  const asked = (): void => {
    if (!request.asked) {
      request.asked = true;
      firstAt = Date.now();
      resolve(undefined);
    } else if (Date.now() - firstAt > SAME_REQUEST_MS) {
      process.stdout.write('Forced to stop.\n');
      request.force();
      process.exit(130);
    }
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, asked);
  return request;
}
