import type { TestProject } from 'vitest/node';
import { withClient, withDatabase } from '../database/client.ts';
import { migrate, prepareRoles } from '../migrate.ts';
import { startTestServer } from './server.ts';

/** Once for all integration tests: a server, and on it a migrated template that every test file copies. */
export default async function setUp(project: TestProject): Promise<() => Promise<void>> {
  const server = await startTestServer();
  const template = `ashwater_template_${process.pid}`;
  try {
    await withClient(server.url, (client) => client.query(`create database ${template}`));
    const templateUrl = withDatabase(server.url, template);
    await migrate(templateUrl);
    await prepareRoles(templateUrl);
  } catch (error) {
    await server.stop();
    throw error;
  }
  project.provide('testServerUrl', server.url);
  project.provide('testTemplate', template);
  return async () => {
    await withClient(server.url, (client) => client.query(`drop database if exists ${template} with (force)`));
    await server.stop();
  };
}
