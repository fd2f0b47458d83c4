import { networkInterfaces } from 'node:os';
import type { FirstRun } from './first-run.ts';
import { say } from './say.ts';

/** What the person who started the service needs to know. */
export interface Announcement extends FirstRun {
  host: string;
  port: number;
  publicOrigin: string | undefined;
  dataDir: string;
  databasePlace: string;
}

/** The address to open on this machine. */
export function localAddress(host: string, port: number): string {
  const everywhere = host === '0.0.0.0' || host === '::';
  const name = everywhere ? 'localhost' : host.includes(':') ? `[${host}]` : host;
  return `http://${name}:${port}`;
}

/** Addresses other machines on the network can use; empty when the service listens on this machine only. */
export function networkAddresses(host: string, port: number): string[] {
  if (host !== '0.0.0.0' && host !== '::') return [];
  return Object.values(networkInterfaces())
    .flatMap((entries) => entries ?? [])
    .filter((entry) => entry.family === 'IPv4' && !entry.internal)
    .map((entry) => `http://${entry.address}:${port}`);
}

/** Prints the address, how to get in, where the data lies, and how to stop. */
export function announce(facts: Announcement): void {
  const address = localAddress(facts.host, facts.port);
  say('');
  say(`Ashwater is ready:  ${facts.publicOrigin ?? address}`);
  for (const other of networkAddresses(facts.host, facts.port)) say(`                    ${other}  (other devices)`);
  if (facts.setupCode !== undefined) {
    say('');
    say(`No studio yet. Open ${address}/setup and give this code:  ${facts.setupCode}`);
  }
  if (facts.demoSignIns.length > 0) {
    say('');
    say('Demo studio, invented people. Sign in as');
    for (const person of facts.demoSignIns) say(`  ${person.role.padEnd(14)} ${person.email.padEnd(34)} ${person.password.padEnd(24)} ${person.name}`);
    say('Start your own studio instead: stop, then  npm run empty-demo');
  }
  say('');
  say(`Data:  ${facts.dataDir}${facts.databasePlace.startsWith(facts.dataDir) ? '' : `  and  ${facts.databasePlace}`}`);
  say('Stop:  Ctrl-C');
}
