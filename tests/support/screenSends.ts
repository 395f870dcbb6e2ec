import { existsSync, readFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { COMMANDS, type CommandType } from '../../machines/commands.ts'

/** What a screen of the kiosk sends: the commands that it or a part of it names. */

const KIOSK = join(import.meta.dirname, '../../kiosk')
const IMPORTED = /(?:from|import)\s*\(?\s*'(\.[^']+\.tsx?)'/g
/** They name commands and send none. */
const SAYS_ONLY = /^(words|commands|units|ui)\//

/** Of the frame and the device: they send by themselves, on every screen. */
const OF_NO_SCREEN = /^(device|bells|frame)\//

/** The screens that a painter works on, by the files that they begin in. */
export const SCREENS = {
  wall: ['wall/wall.tsx'],
  scan: ['scan/scan.tsx', 'device/scanActions.ts'],
  bench: ['bench/bench.tsx', 'bench/cupsAndGuns.tsx'],
  setup: ['setup/setup.tsx', 'air/air.tsx'],
  jobs: ['jobs/jobs.tsx'],
} as const
export type ScreenName = keyof typeof SCREENS

/** A file of the kiosk and all that it imports, of the kiosk. */
function withImports(from: readonly string[]): ReadonlyMap<string, string> {
  const isOwn = (file: string) => from.includes(file) || !OF_NO_SCREEN.test(file)
  const found = new Map<string, string>()
  const open = from.map((file) => join(KIOSK, file))
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    if (found.has(file) || !file.startsWith(KIOSK) || !existsSync(file)) continue
    if (!isOwn(relative(KIOSK, file))) continue
    const source = readFileSync(file, 'utf8')
    found.set(file, source)
    for (const [, to = ''] of source.matchAll(IMPORTED)) open.push(join(dirname(file), to))
  }
  return new Map([...found].map(([file, source]) => [relative(KIOSK, file), source]))
}

const isCommand = (word: string): word is CommandType => Object.hasOwn(COMMANDS, word)

/** The commands that a screen sends. */
export function sentBy(screen: ScreenName): ReadonlySet<CommandType> {
  const files = [...withImports(SCREENS[screen])].filter(([file]) => !SAYS_ONLY.test(file))
  const words = files.flatMap(([, source]) =>
    [...source.matchAll(/['"]([A-Z][A-Za-z]+)['"]/g)].flatMap(([, word = '']) => word),
  )
  return new Set(words.filter(isCommand))
}

/** Files of the kiosk that send commands of their own. */
export const senders = (): readonly (readonly [file: string, source: string])[] =>
  [...new Map(Object.values(SCREENS).flatMap((roots) => [...withImports(roots)]))].filter(
    ([file, source]) => file.endsWith('.tsx') && source.includes('useCommands()'),
  )
