import { createHmac } from 'node:crypto';
import { canConnect, withClient } from '../database/client.ts';

/** The role the API connects as: no ownership, no BYPASSRLS. The first migration creates it without login. */
export const APP_ROLE = 'ashwater_app';

/**
 * Password of the application role, made from the owner's password so that every process of an installation
 * computes the same one and none has to store it.
 * @throws Error when the owner's URL carries no password: the result would be guessable
 */
export function appPassword(adminUrl: string): string {
  const ownerPassword = decodeURIComponent(new URL(adminUrl).password);
  if (ownerPassword === '') {
    throw new Error('DATABASE_URL carries no password, so none can be made for the application role: set DATABASE_APP_URL as well.');
  }
  return createHmac('sha256', ownerPassword).update(`password of ${APP_ROLE}`).digest('base64url');
}

/** Connection URL of the application role on the same server and database as the owner's URL. */
export function appUrlFrom(adminUrl: string): string {
  const url = new URL(adminUrl);
  url.password = encodeURIComponent(appPassword(adminUrl));
  url.username = APP_ROLE;
  return url.href;
}

/**
 * Lets the application role log in. Does nothing when it already can.
 * @param adminUrl connection URL of the role that owns the tables
 * @param options.appUrl set when the operator made the application's login by hand: it is only checked
 * @throws Error when that hand-made login does not work, or the migrations did not create the role
 */
export async function prepareRoles(adminUrl: string, options: { appUrl?: string | undefined } = {}): Promise<void> {
  if (options.appUrl !== undefined) {
    if (await canConnect(options.appUrl)) return;
    throw new Error('DATABASE_APP_URL is set, but no connection can be made with it.');
  }
  if (await canConnect(appUrlFrom(adminUrl))) return;
  await withClient(adminUrl, async (client) => {
    const password = client.escapeLiteral(appPassword(adminUrl));
    await client.query(`alter role ${APP_ROLE} with login password ${password}`);
  });
}
