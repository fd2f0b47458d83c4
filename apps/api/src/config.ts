import { z } from 'zod';

/** The service's settings, all from the environment. Names are those of the variables. */
const Environment = z.object({
  DATABASE_APP_URL: z.string('DATABASE_APP_URL must name the database as the role ashwater_app.'),
  HOST: z.string().default('127.0.0.1'),
  PORT: z.coerce.number().int().min(0).max(65535).default(4310),
  WEB_HANDLER: z.string().optional(),
  SETUP_CODE: z.string().optional(),
  PUBLIC_ORIGIN: z.url().optional(),
  TRUST_PROXY: z.stringbool().default(false),
  LOG_LEVEL: z.enum(['silent', 'error', 'warn', 'info', 'debug']).default('info'),
  ANCHOR_FILE: z.string().optional(),
  DATABASE_POOL_MAX: z.coerce.number().int().min(2).max(200).default(12),
});

export type Config = {
  appUrl: string;
  host: string;
  port: number;
  webHandler: string | undefined;
  setupCode: string | undefined;
  /** Cookies are Secure and carry the __Host- prefix only where the public address is https. */
  secureCookies: boolean;
  publicOrigin: string | undefined;
  trustProxy: boolean;
  logLevel: string;
  poolMax: number;
  /** Where the end of each studio's ledger is written daily, outside the database. */
  anchorFile: string | undefined;
};

/** Reads and checks the environment. Throws one sentence per fault; the process must not start on a half-set configuration. */
export function readConfig(environment: Record<string, string | undefined>): Config {
  // A variable set to nothing is one that is not set: a blank port is not port 0.
  const read = Environment.safeParse(Object.fromEntries(Object.entries(environment).filter(([, value]) => value !== '')));
  if (!read.success) throw new Error(`Configuration: ${z.prettifyError(read.error)}`);
  const env = read.data;
  return {
    appUrl: env.DATABASE_APP_URL,
    host: env.HOST,
    port: env.PORT,
    webHandler: env.WEB_HANDLER,
    setupCode: env.SETUP_CODE,
    secureCookies: env.PUBLIC_ORIGIN !== undefined && new URL(env.PUBLIC_ORIGIN).protocol === 'https:',
    // As browsers send it: without path, slash or default port.
    publicOrigin: env.PUBLIC_ORIGIN && new URL(env.PUBLIC_ORIGIN).origin,
    trustProxy: env.TRUST_PROXY,
    logLevel: env.LOG_LEVEL,
    poolMax: env.DATABASE_POOL_MAX,
    anchorFile: env.ANCHOR_FILE,
  };
}
