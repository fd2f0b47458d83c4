import fp from 'fastify-plugin';
import { DomainProblem } from '../problems/domain-problem.ts';

const SAFE = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * Refuses writes that another site made a browser send. Sec-Fetch-Site says it where the page is https or localhost;
 * elsewhere (plain http in a studio's network) the full Origin, scheme and port included, must be ours.
 * A caller without either header is no browser and carries no cookie that it was tricked into sending.
 */
export default fp(
  async (app) => {
    app.addHook('onRequest', async (request) => {
      if (SAFE.has(request.method)) return;
      const site = request.headers['sec-fetch-site'];
      if (typeof site === 'string') {
        if (site === 'same-origin' || site === 'none') return;
        throw new DomainProblem('cross-site', 'Open Ashwater itself and do it there.');
      }
      const origin = request.headers.origin;
      if (origin === undefined) return;
      const own = app.config.publicOrigin ?? `${request.protocol}://${request.host}`;
      if (origin !== own) throw new DomainProblem('cross-site', 'Open Ashwater itself and do it there.');
    });
  },
  { name: 'cross-site' },
);
