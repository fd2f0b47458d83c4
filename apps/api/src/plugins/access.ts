import fp from 'fastify-plugin';
import type { FastifyRequest, RouteOptions } from 'fastify';
import type { Role } from '@ashwater/contracts';
import type { Actor, Staff, Studio } from '../actor.ts';
import { readSeat, readSession, readStudio, splitToken } from '../capabilities/people/service.ts';
import { DomainProblem } from '../problems/domain-problem.ts';
import type { Tx } from './database/database.ts';

/**
 * Who may call a route. Every route says so in its config; one that does not is refused at boot.
 * `staff` roles and a seat may both be let in; where both cookies come, `prefer` decides.
 */
export type Access = 'public' | { staff?: readonly Role[]; seat?: true; prefer?: 'seat' };

declare module 'fastify' {
  interface FastifyContextConfig {
    access?: Access;
  }
  interface FastifyRequest {
    who: { actor: Actor; studio: Studio } | null;
  }
}

export const ALL_STAFF = ['owner', 'manager', 'instructor', 'assistant'] as const satisfies Role[];
export const PLANNERS = ['owner', 'instructor'] as const satisfies Role[];
export const KEEPERS = ['owner', 'manager'] as const satisfies Role[];

export type CookieNames = { session: string; seat: string; bench: string };
/** __Host- only where the browser will take it: over https. */
export function cookieNames(secure: boolean): CookieNames {
  const prefix = secure ? '__Host-' : '';
  return { session: `${prefix}ashwater_session`, seat: `${prefix}ashwater_seat`, bench: `${prefix}ashwater_bench` };
}

type Found = { actor: Actor; studio: Studio };

export default fp(
  async (app) => {
    app.decorateRequest('who', null);
    const names = cookieNames(app.config.secureCookies);

    // Checked when all routes are known: the pages of the API's description get their access from a hook of their own.
    const routes: RouteOptions[] = [];
    app.addHook('onRoute', (route) => void routes.push(route));
    app.addHook('onReady', async () => {
      const silent = routes.filter((route) => !route.config?.access).map((route) => `${String(route.method)} ${route.url}`);
      if (silent.length > 0) throw new Error(`These routes do not say who may call them: ${silent.join(', ')}`);
    });

    const identify = (kind: 'staff' | 'seat', request: FastifyRequest): Promise<Found | undefined> | undefined => {
      const token = splitToken(request.cookies[kind === 'staff' ? names.session : names.seat]);
      if (!token) return undefined;
      return app.db.transact(token.studioId, async (tx: Tx) => {
        const actor = kind === 'staff' ? await readSession(tx, token.studioId, token.secret, app.clock()) : await readSeat(tx, token.studioId, token.secret);
        const studio = actor && (await readStudio(tx, token.studioId));
        return actor && studio ? { actor, studio } : undefined;
      });
    };

    app.decorate('identify', identify);

    app.addHook('onRequest', async (request) => {
      const access = request.routeOptions.config.access;
      // No route: the not-found answer needs nobody.
      if (!access || access === 'public') return;
      const order: ('staff' | 'seat')[] = access.prefer === 'seat' ? ['seat', 'staff'] : ['staff', 'seat'];
      let refusedStaff: Staff | undefined;
      for (const kind of order) {
        if (kind === 'staff' ? !access.staff : !access.seat) continue;
        const found = await identify(kind, request);
        if (!found) continue;
        if (found.actor.kind === 'staff' && !access.staff?.includes(found.actor.role)) {
          refusedStaff = found.actor;
          continue;
        }
        request.who = found;
        return;
      }
      if (refusedStaff) throw new DomainProblem('not-allowed', `This needs the role ${access.staff?.join(' or ')}; you are signed in as ${refusedStaff.role}.`);
      throw access.staff
        ? new DomainProblem('sign-in-needed', 'Sign in, then do it again. What you typed is still on the page.')
        : new DomainProblem('seat-needed', 'Join a station with its code first.');
    });
  },
  { name: 'access', dependencies: ['database', '@fastify/cookie'] },
);

declare module 'fastify' {
  interface FastifyInstance {
    identify(kind: 'staff' | 'seat', request: FastifyRequest): Promise<Found | undefined> | undefined;
  }
}
