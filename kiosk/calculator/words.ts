import { useOwnWords } from '../shop/ownWords.ts'
import * as own from '../words/calculator.ts'

export const useCalculatorWords = () => useOwnWords(own)
