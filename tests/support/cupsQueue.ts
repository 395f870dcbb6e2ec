import {
  chownSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir, userInfo } from 'node:os'
import { join } from 'node:path'
import { systemProgram } from './systemProgram.ts'

/** A CUPS of a test's own, with queues that print to nowhere and keep what they were given. */

export const hasCups = (): boolean =>
  ['cupsd', 'lpadmin', 'ipptool'].every((name) => systemProgram(name) !== undefined)

/** It will not run jobs as root: Debian's own account for printers does. */
const LP = { name: 'lp', uid: 7, gid: 7 }

const settings = (folder: string, port: number) => `Listen localhost:${port}
LogLevel warn
WebInterface No
Browsing Off
DefaultAuthType None
PreserveJobFiles Yes
<Location />
  Order allow,deny
  Allow all
</Location>
<Location /admin>
  Order allow,deny
  Allow all
</Location>
<Policy default>
  <Limit All>
    Order allow,deny
    Allow all
  </Limit>
</Policy>
# ${folder}
`
const files = (folder: string, user: string) => `ServerRoot ${folder}/root
CacheDir ${folder}/cache
StateDir ${folder}/run
RequestRoot ${folder}/spool
TempDir ${folder}/tmp
AccessLog ${folder}/log/access
ErrorLog ${folder}/log/error
PageLog ${folder}/log/page
FileDevice Yes
User ${user}
Group ${user === LP.name ? LP.name : 'nogroup'}
Sandboxing relaxed
`

export type Cups = {
  /** Makes a queue with what a printer says of itself, or of plain documents where none is named. */
  readonly queue: (name: string, like?: string) => Promise<string>
  /** What its jobs were given, in order. */
  readonly kept: () => Uint8Array[]
  readonly remove: () => Promise<void>
}

export async function cupsServer(port: number): Promise<Cups> {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-cups-'))
  const isRoot = process.getuid?.() === 0
  const parts = ['root', 'cache', 'run', 'spool', 'tmp', 'log'].map((name) => join(folder, name))
  for (const part of parts) mkdirSync(part)
  if (isRoot) for (const part of [folder, ...parts]) chownSync(part, LP.uid, LP.gid)
  writeFileSync(join(folder, 'cupsd.conf'), settings(folder, port))
  const user = isRoot ? LP.name : userInfo().username
  writeFileSync(join(folder, 'cups-files.conf'), files(folder, user))
  const conf = ['-c', join(folder, 'cupsd.conf'), '-s', join(folder, 'cups-files.conf')]
  const server = Bun.spawn([systemProgram('cupsd') ?? '', '-f', ...conf], {
    ...{ stdin: 'ignore', stdout: 'ignore', stderr: 'ignore' },
  })
  for (let tries = 0; ; tries += 1) {
    const isUp = await fetch(`http://localhost:${port}/`).then(
      () => true,
      () => false,
    )
    if (isUp) break
    if (tries === 1_000) throw new Error('cupsd did not start')
    await Bun.sleep(50)
  }
  const admin = (...words: string[]) => {
    const asked = [systemProgram('lpadmin') ?? '', '-h', `localhost:${port}`, ...words]
    const { exitCode, stderr } = Bun.spawnSync(asked)
    if (exitCode !== 0) throw new Error(`${asked.join(' ')}: ${stderr}`)
  }
  /** cupsd asks a driverless printer after lpadmin has ended, and asks whatever the queue prints to by then. */
  async function untilItNamesPaper(address: string): Promise<void> {
    const asked = [systemProgram('ipptool') ?? '', '-tv', address, 'get-printer-attributes.test']
    for (let tries = 0; tries < 1_000; tries += 1) {
      const { stdout } = Bun.spawnSync(asked)
      if (stdout.toString().includes('media-supported')) return
      await Bun.sleep(50)
    }
    throw new Error(`${address} named no paper`)
  }
  return {
    async queue(name, like) {
      const address = `ipp://localhost:${port}/printers/${name}`
      const nowhere = ['-v', 'file:/dev/null']
      if (like === undefined) admin('-p', name, '-E', ...nowhere, '-m', 'raw')
      else {
        admin('-p', name, '-E', '-v', like, '-m', 'everywhere')
        await untilItNamesPaper(address)
        admin('-p', name, ...nowhere)
      }
      return address
    },
    kept: () =>
      readdirSync(join(folder, 'spool'))
        .filter((name) => name.startsWith('d'))
        .toSorted()
        .map((name) => readFileSync(join(folder, 'spool', name))),
    async remove() {
      server.kill()
      await server.exited
      rmSync(folder, { recursive: true, force: true })
    },
  }
}
