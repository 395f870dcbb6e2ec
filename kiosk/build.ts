import { createHash } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { fileURLToPath } from 'node:url'
import { STATE_PATH } from '../machines/contract/packedState.ts'
import { together } from './together.ts'

/**
 * Builds the kiosk into memory. The server hands the files out itself: Bun's HTML imports would
 * answer without its headers (Content-Security-Policy, Cache-Control).
 */

export type KioskFile = {
  readonly body: Uint8Array
  /** The Content-Type. */
  readonly type: string
  /** Whether the URL names its content forever, so that a browser need not ask again. */
  readonly immutable: boolean
}

export type KioskBuild = {
  /** Names the contents: 16 hex digits, the same wherever and whenever the same sources are built. */
  readonly build: string
  /** By URL path. `/` and `/index.html` are the page. */
  readonly files: ReadonlyMap<string, KioskFile>
}

const require = createRequire(import.meta.url)

/** A font as its package has it. */
function whole(part: string): string {
  const family = `@fontsource/atkinson-hyperlegible-${part.slice(0, 4)}`
  const file = `${family}/files/atkinson-hyperlegible-${part}-normal.woff2`
  return require.resolve(file)
}

const here = (name: string) => fileURLToPath(new URL(name, import.meta.url))
/** What a Wall is drawn with. */
const FIRST_FONTS = ['next-500-core-1.woff2', 'next-700-core-1.woff2', 'mono-700-core-3.woff2']
/** Weights that the style sheets name: cut to English and Spanish, and whole for what else is typed. */
const FONTS = [
  ...FIRST_FONTS.map((font) => here(`./fonts/${font}`)),
  ...['next-latin-500', 'next-latin-700', 'next-latin-ext-500', 'next-latin-ext-700'].map(whole),
  ...['mono-latin-700', 'mono-latin-ext-700'].map(whole),
]
const NAMING = {
  entry: '[dir]/[name].[ext]',
  chunk: 'assets/[name]-[hash].[ext]',
  asset: 'assets/[name]-[hash].[ext]',
}
const BUILD_MARK = '%BUILD%'
/** The shop is asked for while the scripts still come: a slow device draws that much sooner. */
const STATE_SOON = `<link rel="preload" as="fetch" crossorigin href="${STATE_PATH}">`
/** The first words are measured in their own letters: fetched when the words ask for them, all would be laid out twice. */
const FONTS_SOON = FIRST_FONTS.map(
  (font) => `<link rel="preload" as="font" type="font/woff2" crossorigin href="/fonts/${font}">`,
).join('')
const HASHED = /-([0-9a-z]{8})\.\w+$/

type Output = { readonly path: string; readonly body: Uint8Array; readonly type: string }

/** @throws when the sources do not build; the message holds the bundler's words */
export async function buildKiosk(): Promise<KioskBuild> {
  const outputs = [
    ...(await page()),
    ...(await screenStyle()),
    ...(await workers()),
    ...(await fonts()),
    ...(await drawnIcons()),
  ]
  const build = nameOf(outputs)
  // The page of an exported job is for the server: no kiosk keeps it.
  const all = [...outputs, ...(await serviceWorker(outputs, build)), ...(await exportPage())]
  const files = new Map(all.map((o) => [o.path, fileOf(o, build)]))
  const index = files.get('/index.html')
  if (index === undefined) throw new Error('The kiosk was built without its page.')
  return { build, files: files.set('/', index) }
}

async function page(): Promise<readonly Output[]> {
  return built({
    entrypoints: [here('./index.html')],
    root: here('.'),
    publicPath: '/',
    splitting: true,
    plugins: [together(here('./main.tsx'))],
    // Bun would write small fonts into the style sheet, where font-src 'self' forbids them.
    external: ['/fonts/*'],
    loader: { '.webmanifest': 'file' },
    naming: NAMING,
  })
}

/** The style sheet of all screens but the Wall, by a name that the page knows (ui/screenStyle.ts). */
async function screenStyle(): Promise<readonly Output[]> {
  return built({ entrypoints: [here('./screens.css')], root: here('.'), naming: NAMING })
}

/** The ticker, and the reader of the camera with its WebAssembly. */
async function workers(): Promise<readonly Output[]> {
  return built({
    entrypoints: [here('./bells/tickWorker.ts'), here('./device/cameraWorker.ts')],
    root: here('.'),
    publicPath: '/',
    format: 'iife',
    naming: NAMING,
  })
}

/** The program and style of an exported job, each in one piece, by names that the server knows (kioskFiles.ts). */

async function exportPage(): Promise<readonly Output[]> {
  return built({
    entrypoints: [here('./trace/exportPage.tsx'), here('./trace/exportPage.css')],
    root: here('.'),
    format: 'iife',
    external: ['/fonts/*'],
    naming: NAMING,
  })
}

/** Built last: it keeps the others by their names. */
async function serviceWorker(others: readonly Output[], build: string): Promise<readonly Output[]> {
  return built({
    entrypoints: [here('./sw.ts')],
    root: here('.'),
    format: 'iife',
    define: {
      __PRECACHE__: JSON.stringify(others.map(({ path }) => path)),
      __BUILD__: JSON.stringify(build),
    },
  })
}

async function drawnIcons(): Promise<readonly Output[]> {
  const { icons } = await import('./icons.ts')
  const drawn = icons(await readFile(here('./icon.svg'), 'utf8'))
  return drawn.map((icon) => ({ ...icon, type: 'image/png' }))
}

async function built({ define, ...config }: Bun.BuildConfig): Promise<readonly Output[]> {
  const { outputs } = await Bun.build({
    target: 'browser',
    minify: true,
    jsx: { runtime: 'automatic', importSource: 'preact', development: false },
    // Else packages come as they are developed with: XState then is larger, and writes to the console.
    define: { 'process.env.NODE_ENV': '"production"', ...define },
    ...config,
  })
  return Promise.all(
    outputs.map(async (o) => ({
      path: o.path.replace(/^\.?\/?/, '/'),
      body: new Uint8Array(await o.arrayBuffer()),
      type: o.type,
    })),
  )
}

async function fonts(): Promise<readonly Output[]> {
  return Promise.all(
    FONTS.map(async (font) => ({
      path: `/fonts/${font.split('/').at(-1)}`,
      body: await readFile(font),
      type: 'font/woff2',
    })),
  )
}

/** Bun's own hashes change with the working folder, so they are left out of the build's name. */
function nameOf(outputs: readonly Output[]): string {
  const hashes = outputs.flatMap((o) => HASHED.exec(o.path)?.[1] ?? [])
  const plain = (text: string) => hashes.reduce((t, hash) => t.replaceAll(hash, ''), text)
  const hash = createHash('sha256')
  const named = outputs.map((o) => ({ ...o, path: plain(o.path) }))
  for (const { path, body, type } of named.sort((a, b) => (a.path < b.path ? -1 : 1))) {
    hash.update(`${path}\n`)
    hash.update(isText(type) ? plain(new TextDecoder().decode(body)) : body)
  }
  return hash.digest('hex').slice(0, 16)
}

function fileOf({ path, body, type }: Output, build: string): KioskFile {
  if (path !== '/index.html') return { body, type, immutable: path.startsWith('/assets/') }
  const html = new TextDecoder()
    .decode(body)
    .replace(BUILD_MARK, build)
    .replace('</head>', `${STATE_SOON}${FONTS_SOON}</head>`)
  return { body: new TextEncoder().encode(html), type, immutable: false }
}

const isText = (type: string) => /^(text|image\/svg)/.test(type)
