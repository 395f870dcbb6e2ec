import { signal } from '@preact/signals'
import { useShop } from '../commands/shop.ts'
import { again } from '../ui/again.ts'
import { en, type Words } from './en.ts'

/**
 * What a first Wall is drawn with comes with the page, in English; the rest is fetched once it stands. Spanish is
 * fetched by the kiosks that want it: no first load carries a language that nobody reads.
 */
type Language = Words['locale']
type First = typeof en
type Rest = Omit<Words, keyof First>

/** What is here of a language. What is fetched later goes into the same table: nothing is drawn again for it. */
const here = signal<Readonly<Record<Language, First | Words | null>>>({ en, es: null })
const PARTS = {
  en: [async () => en, async () => (await again(() => import('./rest.ts'))).en],
  es: [
    async () => (await again(() => import('./es.ts'))).es,
    async () => (await again(() => import('./rest.es.ts'))).es,
  ],
} as const satisfies Record<Language, readonly [() => Promise<First>, () => Promise<Rest>]>

const asked = new Map<() => Promise<object>, Promise<void>>()
/** Set by the first that wants them: from then on a language is only whole with the rest. */
let isRestWanted = false

const isWhole = (table: First | Words | null): table is Words => table !== null && 'said' in table
const hasAll = (table: First | Words | null): boolean =>
  isRestWanted ? isWhole(table) : table !== null

/** How long until a part that could not be had is asked for again. */
const AGAIN_MS = 5_000

/**
 * A part that cannot be had now (no server, and not kept yet) is asked for until it comes. The rest is not put in
 * before the first part, whichever comes first: a table with the rest alone would pass for a whole one.
 */
function fetched(language: Language, part: () => Promise<First | Rest>): Promise<void> {
  const known = asked.get(part)
  if (known !== undefined) return known
  const [first, rest] = PARTS[language]
  const asking = Promise.all([part(), part === rest && fetched(language, first)])
    .then(([words]) => {
      if (part === rest && here.peek()[language] === null) throw new Error('no first part')
      const table = Object.assign(here.peek()[language] ?? {}, words)
      here.value = { ...here.peek(), [language]: table as First | Words }
    })
    .catch(() => {
      asked.delete(part)
      setTimeout(() => void fetched(language, part), AGAIN_MS)
    })
  asked.set(part, asking)
  return asking
}

const languageOf = (language: string | undefined): Language => (language === 'es' ? 'es' : 'en')

/** Resolves when the words of a first Wall are here, or cannot be had now. */
export const fetchWords = (language: string | undefined): Promise<void> =>
  fetched(languageOf(language), PARTS[languageOf(language)][0])

/** Resolves when all words of a language are here, or cannot be had now. */
export async function fetchAllWords(language: string | undefined): Promise<void> {
  isRestWanted = true
  const of = languageOf(language)
  await Promise.all(PARTS[of].map((part) => fetched(of, part)))
}

/**
 * The words of a language; English where the shop has set none, and until the others are here. Only what
 * `allHere` says yes to, and what `later` shows, may read those that are fetched once the Wall stands.
 */
export function wordsIn(language: string | undefined): Words {
  const of = languageOf(language)
  const tables = here.value
  if (hasAll(tables[of])) return tables[of] as Words
  void (isRestWanted ? fetchAllWords(of) : fetchWords(of))
  return tables.en as Words
}

/** Whether the words that are fetched once the Wall stands are here; whoever asks is drawn again when they come. */
export function allHere(words: Words): boolean {
  return here.value !== null && isWhole(words)
}

/**
 * Words of a screen that is fetched when it is opened, in the shop's language: they come with it.
 */
export function useOwnWords<W>({ en: own, es }: { readonly en: W; readonly es: W }): W {
  const { words } = useShop()
  return words.value.locale === 'en' ? own : es
}
