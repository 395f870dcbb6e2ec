import { encode } from 'fast-png'
import { command, JOB, vanInWork } from './serverCommands.ts'
import { post, ran, type ServerProcess } from './serverProcess.ts'

/** A shop in a real server, to be copied. */

export const note = (id: string, text = id) => command(id, 'AddNote', { job: JOB, text })

/** A real picture: two by two gray points. */
export const picture = (gray: number): Uint8Array =>
  encode({ width: 2, height: 2, channels: 1, depth: 8, data: new Uint8Array(4).fill(gray) })

/** The van in work with a picture for each gray. @returns their names */
export async function filled(
  { url }: Pick<ServerProcess, 'url'>,
  grays: readonly number[] = [],
): Promise<readonly string[]> {
  await post(`${url}/api/commands`, vanInWork)
  const names: string[] = []
  for (const gray of grays) {
    const sent = await fetch(`${url}/api/photos`, {
      method: 'POST',
      body: Uint8Array.from(picture(gray)),
    })
    const { photo } = (await sent.json()) as { photo: string }
    names.push(photo)
    await post(`${url}/api/commands`, command(`photo-${gray}`, 'AddPhoto', { job: JOB, photo }))
  }
  return names
}

/** Every entry that a server gives. */
export async function entriesOf({ url }: Pick<ServerProcess, 'url'>): Promise<readonly object[]> {
  const all: object[] = []
  for (;;) {
    const page = await (await fetch(`${url}/api/entries?after=${all.length}&limit=1000`)).json()
    all.push(...page.entries)
    if (page.entries.length < 1_000) return all
  }
}

/** Makes a backup and expects it to be made. */
export async function backedUp(data: string, folder: string, ...more: readonly string[]) {
  const { code, out, err } = await ran(['backup', folder, '--data', data, ...more])
  if (code !== 0) throw new Error(`backup ended with ${code}: ${err}`)
  return JSON.parse(out.trimEnd().split('\n').at(-1) ?? '') as {
    path: string
    head: number
    hash: string
    photos: { copied: number; missing: string[] }
    removed: string[]
    spared: string[]
  }
}
