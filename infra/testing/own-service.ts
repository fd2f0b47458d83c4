/** A service that browser tests run against: its address, and its database's owner for what is asserted from the tables. */
export type TestedService = { address: string; databaseUrl: string };

const LIST = 'ASHWATER_TEST_SERVICES';

/** Leaves the services of this run to the processes that test them: one for each worker, which nobody else acts on. */
export function leaveServices(services: readonly TestedService[]): void {
  process.env[LIST] = JSON.stringify(services.map(({ address, databaseUrl }) => ({ address, databaseUrl })));
}

/**
 * The service of the worker that asks. Undefined before the services are started, which is when Playwright reads its settings
 * for the first time.
 */
export function ownService(): TestedService | undefined {
  const services = JSON.parse(process.env[LIST] ?? '[]') as TestedService[];
  return services[Number(process.env.TEST_PARALLEL_INDEX ?? 0)];
}

/** The same for a test, which runs when the services are there. */
export function ownAddress(): string {
  const service = ownService();
  if (!service) throw new Error('no service was left to this process: is it a browser test?');
  return service.address;
}
