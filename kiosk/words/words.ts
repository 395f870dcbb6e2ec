import { signal } from '@preact/signals'
import { useShop } from '../commands/shop.ts'
import { en, en as inEnglish, type Words } from './en.ts'

/** Spanish is fetched by the kiosks that want it: no first load carries a language that nobody reads. */
const spanish = signal<Words | null>(null)
let asked: Promise<void> | null = null

const fetchSpanish = (): Promise<void> => {
  asked ??= import('./es.ts').then(
    ({ es }) => {
      spanish.value = es
    },
    () => {
      // Without the server and not kept yet: asked for again when the words are wanted again.
      asked = null
    },
  )
  return asked
}

/** Resolves when the words of a language are here, or cannot be had now. */
export const fetchWords = (language: string | undefined): Promise<void> =>
  language === 'es' ? fetchSpanish() : Promise.resolve()

/** The words of a language; English where the shop has set none, and until the others are here. */
export function wordsIn(language: string | undefined): Words {
  if (language !== 'es') return en
  if (spanish.value === null) void fetchSpanish()
  return spanish.value ?? en
}

/**
 * Words of a screen that is fetched when it is opened, in the shop's language: they come with it.
 * Those of kiosk/words/en.ts and es.ts come with the Wall.
 */
export function useOwnWords<W>({ en, es }: { readonly en: W; readonly es: W }): W {
  const { words } = useShop()
  return words.value === inEnglish ? en : es
}
