import settings from './engine.json'

/**
 * How the engine is set where a server runs; server/flashbell.mjs starts it so. A shop's commands are few and each
 * runs through much code: the compiler of last resort never earned back what it took, and memory that was given
 * back was wanted again at once. A person's own setting goes before.
 */
export const SERVER_ENGINE: Readonly<Record<string, string>> = settings

/** What a process that works through a whole log in one go is started with: it runs at half the speed as a server is set. */
export const longWorkEnv = (env: NodeJS.ProcessEnv): NodeJS.ProcessEnv =>
  Object.fromEntries(Object.entries(env).filter(([name, value]) => SERVER_ENGINE[name] !== value))
