import { randomInt } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { longWorkEnv, SERVER_ENGINE } from '../../server/engine.ts'

/** Shared by all test servers: the first builds the kiosk, the others find it. */
export const KIOSK_CACHE = fileURLToPath(
  new URL('../../node_modules/.cache/flashbell', import.meta.url),
)
export const MAIN = fileURLToPath(new URL('../../server/main.ts', import.meta.url))

/** A data folder of a test's own. */
export function dataFolder(): { folder: string; remove: () => void } {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-data-'))
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) }
}

/**
 * A port that nobody listens on at the moment, for a program that wants a number. Below those that a
 * system gives to whoever names none (Linux: from 32768, ip(7)): no other test takes it meanwhile.
 */
export async function freePort(): Promise<number> {
  for (;;) {
    const port = randomInt(20_000, 32_000)
    try {
      await Bun.serve({ port, fetch: () => new Response() }).stop(true)
      return port
    } catch {
      // Somebody has it.
    }
  }
}

/** As server/flashbell.mjs sets it. */
const engineOf = ([command]: readonly string[]) =>
  command === 'serve' || command === 'practice' ? SERVER_ENGINE : {}

type Child = Bun.Subprocess<'pipe', 'pipe', 'pipe'>
const children = new Set<Child>()

/** @param before words of a command that starts another one, such as one that sets limits */
function flashbell(
  args: readonly string[],
  env: Record<string, string> = {},
  before: readonly string[] = [],
): Child {
  const child = Bun.spawn([...before, process.execPath, '--bun', MAIN, ...args], {
    stdin: 'pipe',
    stdout: 'pipe',
    stderr: 'pipe',
    env: { ...longWorkEnv(process.env), ...engineOf(args), FLASHBELL_CACHE: KIOSK_CACHE, ...env },
  })
  children.add(child)
  void child.exited.then(() => children.delete(child))
  return child
}

/** Ends what a failed test has left running. */
export function killAll(): void {
  for (const child of children) child.kill('SIGKILL')
}

export type Ran = { code: number; out: string; err: string }

/** Runs a command to its end. */
export async function ran(
  args: readonly string[],
  { stdin = '', env = {} }: { stdin?: string; env?: Record<string, string> } = {},
): Promise<Ran> {
  const child = flashbell(args, env)
  child.stdin.write(stdin)
  await child.stdin.end()
  const [out, err, code] = await Promise.all([
    new Response(child.stdout).text(),
    new Response(child.stderr).text(),
    child.exited,
  ])
  return { code, out, err }
}

export type ServerProcess = {
  readonly url: string
  readonly pid: number
  /** @returns the exit code, and all that was said on standard error */
  readonly stop: (
    signal: 'SIGTERM' | 'SIGINT' | 'SIGKILL',
  ) => Promise<{ code: number; err: string }>
}

/** Starts a command and kills it as soon as it prints a line that holds a text. */
export async function killedAt(args: readonly string[], text: string): Promise<void> {
  const child = flashbell(args)
  const decoder = new TextDecoder()
  let said = ''
  for await (const chunk of child.stdout) {
    said += decoder.decode(chunk, { stream: true })
    if (said.includes(text)) break
  }
  child.kill('SIGKILL')
  await child.exited
  if (!said.includes(text)) throw new Error(`it never printed ${text}: ${said}`)
}

/** A server in a process of its own; resolves when it has said where it is. */
export async function serverProcess(
  folder: string,
  env: Record<string, string> = {},
  port = 0,
  before: readonly string[] = [],
): Promise<ServerProcess> {
  const own = { TZ: 'Europe/Madrid', ...env }
  const child = flashbell(['serve', '--port', String(port), '--data', folder], own, before)
  const err = new Response(child.stderr).text()
  const url = await addressFrom(child.stdout)
  if (url === null) throw new Error(`the server did not start: ${await err}`)
  return {
    url,
    pid: child.pid,
    async stop(signal) {
      child.kill(signal)
      const code = await child.exited
      return { code, err: await err }
    },
  }
}

/**
 * A server whose files may not grow beyond a size; the signal that would kill it instead is ignored.
 * @param mostKib of any file, KiB
 */
export const limitedServer = (folder: string, mostKib: number): Promise<ServerProcess> => {
  // ulimit counts 512 bytes.
  const limits = `trap "" XFSZ; ulimit -f ${mostKib * 2}; exec "$@"`
  return serverProcess(folder, {}, 0, ['sh', '-c', limits, 'sh'])
}

const COMMAND = fileURLToPath(new URL('../../server/flashbell.mjs', import.meta.url))

/**
 * A server started by the command `flashbell` in Node, as a shop starts it.
 * @returns where it is, and what kills the command without a chance to pass anything on
 */
export async function startedByCommand(
  folder: string,
): Promise<{ readonly url: string; readonly pid: number; readonly kill: () => void }> {
  // Under vitest the name node means Bun; npm knows the real one.
  const node = process.env.npm_node_execpath ?? 'node'
  const child = Bun.spawn([node, COMMAND, 'serve', '--port', '0', '--data', folder], {
    stdin: 'pipe',
    stdout: 'pipe',
    stderr: 'pipe',
    env: { ...process.env, FLASHBELL_CACHE: KIOSK_CACHE },
  })
  children.add(child)
  void child.exited.then(() => children.delete(child))
  const url = await addressFrom(child.stdout)
  if (url === null)
    throw new Error(`the server did not start: ${await new Response(child.stderr).text()}`)
  return { url, pid: child.pid, kill: () => child.kill('SIGKILL') }
}

async function addressFrom(stdout: ReadableStream<Uint8Array>): Promise<string | null> {
  const decoder = new TextDecoder()
  let text = ''
  for await (const chunk of stdout) {
    text += decoder.decode(chunk, { stream: true })
    const found = /http:\/\/\S+/.exec(text)
    if (found) return found[0]
  }
  return null
}

export async function post(url: string, body: unknown) {
  const text = typeof body === 'string' ? body : JSON.stringify(body)
  const response = await fetch(url, { method: 'POST', body: text })
  return { status: response.status, body: await response.json() }
}

export async function get(url: string) {
  const response = await fetch(url)
  return { status: response.status, body: await response.json() }
}
