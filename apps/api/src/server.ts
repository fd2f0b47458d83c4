import closeWithGrace from 'close-with-grace';
import { buildApp } from './app.ts';
import { readConfig } from './config.ts';

const config = readConfig(process.env);
// The pages ask the API over the loopback address, whatever the outside address is.
process.env.API_ORIGIN ??= `http://127.0.0.1:${config.port}`;
const app = await buildApp(config);
closeWithGrace({ delay: 8_000, logger: false }, async ({ err }) => {
  if (err) app.log.error({ err }, 'the service stops after a fault');
  await app.close();
});
await app.listen({ host: config.host, port: config.port });
