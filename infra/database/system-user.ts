import { execFileSync, spawnSync } from 'node:child_process';

/** The user PostgreSQL runs as: nothing to say when we are not root ourselves. */
export interface SystemUser {
  uid?: number;
  gid?: number;
}

/**
 * PostgreSQL refuses to run as root. As root, use (and if needed create) the system user `postgres`.
 * @throws Error with what to do, when there is no such user and none can be made
 */
export function postgresUser(): SystemUser {
  if (process.getuid?.() !== 0) return {};
  const found = lookUp();
  if (found !== undefined) return found;
  try {
    execFileSync('useradd', ['--system', '--user-group', '--no-create-home', '--shell', '/usr/sbin/nologin', 'postgres'], { stdio: 'pipe' });
  } catch {
    throw new Error('PostgreSQL does not run as root and the user "postgres" could not be made. Make it, start as another user, or set DATABASE_URL.');
  }
  const made = lookUp();
  if (made === undefined) throw new Error('The user "postgres" was made but cannot be found.');
  return made;
}

function lookUp(): SystemUser | undefined {
  const [uid, gid] = ['-u', '-g'].map((flag) => spawnSync('id', [flag, 'postgres'], { encoding: 'utf8' }));
  if (uid?.status !== 0 || gid?.status !== 0) return undefined;
  return { uid: Number(uid.stdout), gid: Number(gid.stdout) };
}

/** True when that user can enter the folder: a home closed to others (0700) on the way hides it. */
export function canEnter(folder: string, user: SystemUser): boolean {
  return spawnSync('/bin/sh', ['-c', 'cd "$0"', folder], { ...user, cwd: '/', stdio: 'ignore' }).status === 0;
}
