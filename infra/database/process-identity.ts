import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { setTimeout as sleep } from 'node:timers/promises';

/** A process as a file can remember it: the start time tells a reused process number from the same process. */
export interface ProcessIdentity {
  pid: number;
  startedAt: string;
}

/** When a running process started, in whatever unit the system uses; undefined when no such process runs. */
export function startOf(pid: number): string | undefined {
  try {
    if (process.platform === 'linux') {
      const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
      // The command name, in brackets, may itself hold spaces and brackets: count from the last bracket.
      const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
      // A zombie has ended already; only its parent has not noticed.
      return fields[0] === 'Z' ? undefined : fields[19];
    }
    return execFileSync('ps', ['-o', 'lstart=', '-p', String(pid)], { encoding: 'utf8' }).trim() || undefined;
  } catch {
    return undefined;
  }
}

/** This process, to be written into a file. */
export function ownIdentity(): ProcessIdentity {
  return { pid: process.pid, startedAt: startOf(process.pid) ?? '' };
}

/** True when exactly that process still runs, not another one that was given its number. */
export function isRunning(identity: ProcessIdentity): boolean {
  return startOf(identity.pid) === identity.startedAt;
}

/**
 * Asks a process to end, and ends it by force when it has not after `patienceMs`.
 * @returns true when it went on the first request
 */
export async function endProcess(pid: number, signal: NodeJS.Signals, patienceMs: number): Promise<boolean> {
  const startedAt = startOf(pid);
  if (startedAt === undefined) return true;
  const identity = { pid, startedAt };
  sendSignal(pid, signal);
  for (const deadline = Date.now() + patienceMs; Date.now() < deadline;) {
    if (!isRunning(identity)) return true;
    await sleep(50);
  }
  sendSignal(pid, 'SIGKILL');
  while (isRunning(identity)) await sleep(50);
  return false;
}

function sendSignal(pid: number, signal: NodeJS.Signals): void {
  try {
    process.kill(pid, signal);
  } catch {
    // It ended in the meantime.
  }
}
