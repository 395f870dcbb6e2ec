import { useOwnWords } from '../ui/ownWords.ts'
import * as own from '../words/calculator.ts'

export const useCalculatorWords = () => useOwnWords(own)
