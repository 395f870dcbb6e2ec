import { useShop } from '../shop/context.ts'
import { en, es } from '../words/calculator.ts'
import { es as inSpanish } from '../words/es.ts'

/** The Calculator's words in the shop's language: they come with its screens, not with the Wall. */
export function useCalculatorWords(): typeof en {
  const { words } = useShop()
  return words.value === inSpanish ? es : en
}
