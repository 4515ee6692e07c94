import { existsSync } from 'node:fs';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import fastifySwagger from '@fastify/swagger';
import Fastify, { type FastifyInstance } from 'fastify';
import {
  jsonSchemaTransform,
  serializerCompiler,
  validatorCompiler,
  type ZodTypeProvider,
} from 'fastify-type-provider-zod';
import type { Desk } from '../desk/index.ts';
import { handToBackroom, openBackroom } from './backroom.ts';
import { answerErrors } from './errors.ts';
import { guardOrigin } from './guard.ts';
import { setHeaders } from './headers.ts';
import { coverageRoutes } from './routes/coverage.ts';
import { dayRoutes } from './routes/days.ts';
import { entryRoutes } from './routes/entries.ts';
import { exportRoutes } from './routes/exports.ts';
import { factsRoutes } from './routes/facts.ts';
import { fileRoutes, readingRoutes } from './routes/files.ts';
import { limitRoutes } from './routes/limits.ts';
import { streamRoutes } from './routes/streams.ts';
import { Turns } from './turns.ts';

export interface ServerOptions {
  readonly desk: Desk;
  /** Folder of the built page; without it only questions are answered. */
  readonly webRoot?: string;
  /** Names beside loopback that may stand in the Host header. */
  readonly hosts?: readonly string[];
  /** True when the server listens beyond this machine. */
  readonly open?: boolean;
  /** Largest log that is taken [bytes]. */
  readonly fileLimit?: number;
  /** Folder of the store that `desk` stands on: with it everything is worked out in a thread of its own. */
  readonly directory?: string;
  /** Is told every fault of our own. */
  readonly fault?: (error: unknown) => void;
}

/** Our default: 1 GiB holds an hour of 100 channels at 100 Hz as text several times over. */
const FILE_LIMIT = 2 ** 30;
/** Our default: facts and decisions are short. */
const BODY_LIMIT = 2 ** 20;

/** The server without a socket: tests ask it with a request object. */
export async function buildServer(options: ServerOptions): Promise<FastifyInstance> {
  const { desk, hosts = [], open = false, fileLimit = FILE_LIMIT, fault = () => undefined } = options;
  const app = Fastify({ bodyLimit: BODY_LIMIT, routerOptions: { maxParamLength: 300 }, forceCloseConnections: true });
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  guardOrigin(app, { hosts, open });
  setHeaders(app);
  if (options.directory !== undefined) {
    const wish = { directory: options.directory, hosts, open, fileLimit };
    handToBackroom(app, openBackroom(wish, fault));
  }
  answerErrors(app, fault);
  await describe(app);
  await app.register(async (inside) => fileRoutes(inside.withTypeProvider<ZodTypeProvider>(), desk, fileLimit));
  await app.register(async (inside) => {
    const typed = inside.withTypeProvider<ZodTypeProvider>();
    const turns = new Turns();
    dayRoutes(typed, desk);
    entryRoutes(typed, desk, turns);
    exportRoutes(typed, desk);
    readingRoutes(typed, desk);
    factsRoutes(typed, desk, turns);
    coverageRoutes(typed, desk);
    limitRoutes(typed, desk);
    streamRoutes(typed, desk, fault);
  });
  await servePage(app, options.webRoot);
  return app;
}

async function describe(app: FastifyInstance): Promise<void> {
  await app.register(fastifySwagger, {
    openapi: {
      openapi: '3.1.0',
      info: { title: 'Knurl', version: '1', description: 'Values are SI; null is missing.' },
    },
    transform: jsonSchemaTransform,
  });
  app.get('/openapi.json', { schema: { hide: true } }, () => app.swagger());
}

async function servePage(app: FastifyInstance, webRoot: string | undefined): Promise<void> {
  if (webRoot !== undefined && existsSync(join(webRoot, 'index.html'))) {
    await app.register(fastifyStatic, { root: webRoot });
    return;
  }
  app.get('/', { schema: { hide: true } }, (_request, reply) =>
    reply.type('text/plain; charset=utf-8').send('The page is not built. Questions are answered; see /openapi.json.\n'),
  );
}
