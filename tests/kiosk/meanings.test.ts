import { expect, test } from 'vitest'
import { en, es } from '../../kiosk/words/meanings.ts'
import { BELLS } from '../../machines/bell/kinds.ts'

test('every bell says why it rings, what happens otherwise, what to do and how long there is', () => {
  for (const words of [en, es]) {
    expect(Object.keys(words.of)).toEqual(Object.keys(BELLS))
    for (const [kind, meaning] of Object.entries(words.of))
      for (const part of ['name', 'cause', 'consequence', 'action', 'time'] as const)
        expect(meaning[part].trim(), `${kind}: ${part}`).not.toBe('')
  }
})
