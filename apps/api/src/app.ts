import cookie from '@fastify/cookie';
import helmet from '@fastify/helmet';
import rateLimit from '@fastify/rate-limit';
import { fastifySSE } from '@fastify/sse';
import Fastify from 'fastify';
import type { FastifyInstance } from 'fastify';
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import audit from './capabilities/audit/routes.ts';
import classes from './capabilities/classes/routes.ts';
import fats from './capabilities/fats/routes.ts';
import gear from './capabilities/gear/routes.ts';
import incidents from './capabilities/incidents/routes.ts';
import followUps from './capabilities/incidents/follow-ups/routes.ts';
import namelessNotes from './capabilities/incidents/nameless/routes.ts';
import noteMonth from './capabilities/incidents/month/routes.ts';
import noteReview from './capabilities/incidents/review/routes.ts';
import jars from './capabilities/jars/routes.ts';
import live from './capabilities/live/routes.ts';
import people from './capabilities/people/routes.ts';
import prints from './capabilities/prints/routes.ts';
import recipes from './capabilities/recipes/routes.ts';
import stockBooks from './capabilities/stock/books/routes.ts';
import stockBottles from './capabilities/stock/bottles/routes.ts';
import stockDifferences from './capabilities/stock/differences/routes.ts';
import stockHanding from './capabilities/stock/handing/routes.ts';
import stockLots from './capabilities/stock/lots/routes.ts';
import stockPapers from './capabilities/stock/papers/routes.ts';
import stockPlanning from './capabilities/stock/planning/routes.ts';
import stockRequests from './capabilities/stock/requests/routes.ts';
import stock from './capabilities/stock/routes.ts';
import stockScales from './capabilities/stock/scales/routes.ts';
import stockSettings from './capabilities/stock/settings/routes.ts';
import weighCards from './capabilities/weigh-cards/routes.ts';
import type { Config } from './config.ts';
import access from './plugins/access.ts';
import { systemClock } from './plugins/clock.ts';
import type { Clock } from './plugins/clock.ts';
import crossSite from './plugins/cross-site.ts';
import daily from './plugins/daily.ts';
import database from './plugins/database.ts';
import health from './plugins/health.ts';
import liveHub from './plugins/live-hub.ts';
import { frameworkProblem } from './plugins/framework-problem.ts';
import openApi from './plugins/open-api.ts';
import problems from './plugins/problems.ts';
import webPages from './plugins/web-pages.ts';

/** The service, ready to listen or to be asked by `inject`. Time comes from `clock`. */
export async function buildApp(config: Config, clock: Clock = systemClock): Promise<FastifyInstance> {
  const app = Fastify({
    logger: { level: config.logLevel, redact: ['req.headers.cookie', 'req.headers.authorization', 'res.headers["set-cookie"]'] },
    // The pages ask from this machine and say for whom; so does a proxy on it. Others only when the operator says so.
    trustProxy: config.trustProxy || 'loopback',
    bodyLimit: 1_000_000,
    requestTimeout: 30_000,
    handlerTimeout: 30_000,
    forceCloseConnections: true,
    allowErrorHandlerOverride: false,
    frameworkErrors: frameworkProblem,
  });
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  app.decorate('config', config);
  app.decorate('clock', clock);

  await app.register(problems);
  // Pages bring their own content security policy; on plain http there is nothing to upgrade to.
  await app.register(helmet, { contentSecurityPolicy: false, hsts: config.secureCookies && { maxAge: 31_536_000 }, referrerPolicy: { policy: 'same-origin' } });
  await app.register(cookie);
  await app.register(rateLimit, { global: false });
  await app.register(fastifySSE, { heartbeatInterval: 15_000 });
  await app.register(database);
  await app.register(crossSite);
  await app.register(access);
  await app.register(daily);
  await app.register(liveHub);
  await app.register(openApi);
  await app.register(health);

  await app.register(people);
  await app.register(fats);
  await app.register(recipes);
  await app.register(classes);
  await app.register(weighCards);
  await app.register(gear);
  await app.register(stock);
  await app.register(stockHanding);
  await app.register(stockScales);
  await app.register(stockSettings);
  await app.register(stockDifferences);
  await app.register(stockBooks);
  await app.register(stockRequests);
  await app.register(stockPlanning);
  await app.register(stockBottles);
  await app.register(stockLots);
  await app.register(stockPapers);
  await app.register(jars);
  await app.register(incidents);
  await app.register(namelessNotes);
  await app.register(noteReview);
  await app.register(followUps);
  await app.register(noteMonth);
  await app.register(live);
  await app.register(prints);
  await app.register(audit);

  await app.register(webPages);
  return app;
}
