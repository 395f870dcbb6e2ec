import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { systemProgram } from './systemProgram.ts'

/** ippeveprinter of CUPS, a printer in software that we did not write. It needs a message bus of its own. */

export const hasEvePrinter = (): boolean =>
  systemProgram('ippeveprinter') !== undefined && systemProgram('dbus-daemon') !== undefined

const BUS = (
  folder: string,
) => `<!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN"
 "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
<busconfig><type>custom</type><listen>unix:path=${folder}/bus</listen><auth>EXTERNAL</auth>
<policy context="default"><allow send_destination="*" eavesdrop="true"/><allow eavesdrop="true"/><allow own="*"/></policy></busconfig>`

const LABELS = `ATTR keyword media-supported om_label_57x32mm,om_label_62x40mm,na_index-4x6_4x6in,iso_a4_210x297mm
ATTR keyword media-ready om_label_57x32mm
ATTR keyword media-default om_label_57x32mm
ATTR resolution pwg-raster-document-resolution-supported 203dpi,300dpi
ATTR keyword pwg-raster-document-type-supported black_1,sgray_8
ATTR resolution printer-resolution-supported 203dpi,300dpi
ATTR resolution printer-resolution-default 203dpi
ATTR mimeMediaType document-format-supported application/octet-stream,application/pdf,image/pwg-raster
`

/** Gives up while a file says that there are no labels; takes its time where one says so. */
const COMMAND = `#!/bin/sh
dir=$(dirname "$0")
if [ -e "$dir/empty" ]; then echo "STATE: +media-empty-error" >&2; exit 1; fi
[ -e "$dir/slow" ] && sleep 1
exit 0
`

export type EvePrinter = {
  readonly address: string
  /** What it was sent and kept, in order, by the end of the name: "pwg", "pdf". */
  readonly spooled: (ending: string) => Uint8Array[]
  readonly set: (what: 'empty' | 'slow', is: boolean) => void
  readonly start: () => Promise<void>
  readonly stop: () => Promise<void>
  readonly remove: () => Promise<void>
}

/** @returns a printer that has been started */
export async function evePrinter(port: number): Promise<EvePrinter> {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-printer-'))
  const spool = join(folder, 'spool')
  mkdirSync(spool)
  writeFileSync(join(folder, 'bus.conf'), BUS(folder))
  writeFileSync(join(folder, 'labels.conf'), LABELS)
  writeFileSync(join(folder, 'command'), COMMAND, { mode: 0o755 })
  const bus = Bun.spawn(
    [systemProgram('dbus-daemon') ?? '', `--config-file=${folder}/bus.conf`, '--nofork'],
    {
      stdout: 'ignore',
      stderr: 'ignore',
    },
  )
  const address = `ipp://localhost:${port}/ipp/print`
  let printer: Bun.Subprocess<'ignore', 'ignore', 'ignore'> | null = null

  async function start(): Promise<void> {
    const words = ['-r', 'off', '-p', String(port), '-n', 'localhost', '-d', spool, '-k']
    const files = ['-a', join(folder, 'labels.conf'), '-c', join(folder, 'command')]
    printer = Bun.spawn([systemProgram('ippeveprinter') ?? '', ...words, ...files, 'Labels'], {
      ...{ stdin: 'ignore', stdout: 'ignore', stderr: 'ignore' },
      env: { ...process.env, DBUS_SYSTEM_BUS_ADDRESS: `unix:path=${folder}/bus` },
    })
    for (let tries = 0; tries < 1_000; tries += 1) {
      const isUp = await fetch(`http://localhost:${port}/`).then(
        () => true,
        () => false,
      )
      if (isUp) return
      await Bun.sleep(50)
    }
    throw new Error('ippeveprinter did not start')
  }
  async function stop(): Promise<void> {
    printer?.kill()
    await printer?.exited
  }

  for (let tries = 0; tries < 1_000 && !existsSync(join(folder, 'bus')); tries += 1)
    await Bun.sleep(20)
  await start()
  return {
    address,
    start,
    stop,
    spooled: (ending) =>
      readdirSync(spool)
        .filter((name) => name.endsWith(`.${ending}`))
        .toSorted((a, b) => Number.parseInt(a, 10) - Number.parseInt(b, 10))
        .map((name) => readFileSync(join(spool, name))),
    set(what, is) {
      const file = join(folder, what)
      if (is) writeFileSync(file, '')
      else rmSync(file, { force: true })
    },
    async remove() {
      await stop()
      bus.kill()
      await bus.exited
      rmSync(folder, { recursive: true, force: true })
    },
  }
}
