import { chmodSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { KIOSK_CACHE, MAIN, type Ran } from './serverProcess.ts'

/** Media that a computer may have: one that cannot be written to, one that is too small. */

const FLASHBELL = [process.execPath, '--bun', MAIN]
const OWN_SPACE = ['unshare', '--user', '--map-root-user', '--mount']
/** Whether this system lets a user mount things for one process. */
const maySpace = (): boolean => {
  try {
    return Bun.spawnSync([...OWN_SPACE, 'sh', '-c', 'mount -t tmpfs none /mnt']).exitCode === 0
  } catch {
    return false
  }
}

/** Runs shell lines; in them `"$@"` is the command. */
async function shell(before: readonly string[], lines: string, args: readonly string[]) {
  const child = Bun.spawn([...before, 'sh', '-ec', lines, 'sh', ...FLASHBELL, ...args], {
    stdout: 'pipe',
    stderr: 'pipe',
    env: { ...process.env, FLASHBELL_CACHE: KIOSK_CACHE },
  })
  const [out, err, code] = await Promise.all([
    new Response(child.stdout).text(),
    new Response(child.stderr).text(),
    child.exited,
  ])
  return { code, out, err } satisfies Ran
}

/**
 * Runs a command while a folder cannot be written to: mounted as read-only where that is allowed, else
 * by its permissions, which do not bind root.
 */
export async function onReadOnlyMedium(folder: string, args: readonly string[]): Promise<Ran> {
  if (maySpace()) {
    const mount = `mount --bind "${folder}" "${folder}"; mount -o remount,bind,ro "${folder}"`
    return await shell(OWN_SPACE, `${mount}; exec "$@"`, args)
  }
  for (const name of readdirSync(folder)) chmodSync(join(folder, name), 0o444)
  chmodSync(folder, 0o555)
  const asNobody = process.getuid?.() === 0 ? ['setpriv', '--reuid=65534', '--clear-groups'] : []
  const ran = await shell(asNobody, 'exec "$@"', args)
  chmodSync(folder, 0o755)
  return ran
}

/**
 * Runs a command with room for so much on a disk: a small disk of its own over the folder where that
 * may be mounted, else files that may not grow further.
 * @param before shell lines that are run when the disk is there
 * @param after shell lines that are run at the end; what they print is part of the output
 */
export async function withLittleRoom(
  { folder, kb, before = '', after = '' }: LittleRoom,
  args: readonly string[],
): Promise<Ran & { readonly isDisk: boolean }> {
  const end = `code=0; "$@" || code=$?; ${after || ':'}; exit $code`
  if (maySpace()) {
    const mount = `mount -t tmpfs -o size=${kb}k none "${folder}"`
    return { ...(await shell(OWN_SPACE, `${mount}; ${before || ':'}; ${end}`, args)), isDisk: true }
  }
  // In blocks of 512 bytes. The signal would end the process before it can say anything.
  const limit = `trap '' XFSZ; ulimit -f ${kb * 2}`
  return { ...(await shell([], `${before || ':'}; ${limit}; ${end}`, args)), isDisk: false }
}

type LittleRoom = {
  readonly folder: string
  readonly kb: number
  readonly before?: string
  readonly after?: string
}
