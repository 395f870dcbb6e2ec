import { useShop } from '../commands/shop.ts'
import { en as inEnglish } from '../words/en.ts'

/**
 * Words of a screen that is fetched when it is opened, in the shop's language: they come with it.
 * Those of kiosk/words/en.ts and es.ts come with the Wall.
 */
export function useOwnWords<W>({ en, es }: { readonly en: W; readonly es: W }): W {
  const { words } = useShop()
  return words.value === inEnglish ? en : es
}
