import fc from 'fast-check'
import { expect, test } from 'vitest'
import { isTaken } from '../../kiosk/commands/send.ts'
import { runs } from '../support/randomRuns.ts'
import { outboxShop } from './outboxShop.ts'

const JOB = 'VANREAR2'
const SECOND = 1_000

/** What may happen to a kiosk and its line, in any order. */
const step = fc.constantFrom(
  'press',
  'pressTwice',
  'serverAway',
  'serverBack',
  'answersLost',
  'lineGood',
  'diskFull',
  'reload',
  'tryNow',
  'tail',
)

test('whatever the line does, every press is in the log once and in the order of the presses', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 40 }), async (steps) => {
      const shop = await outboxShop()
      await shop.given('OpenJob', { job: JOB, title: 'Delivery van' })
      let page = shop.page()
      const pressed: string[] = []
      const answers: Promise<unknown>[] = []
      const press = async () => {
        const text = `note ${pressed.length}`
        pressed.push(text)
        const sent = page.out.send('AddNote', { job: JOB, text })
        answers.push(sent.then((answer) => expect(isTaken(answer)).toBe(true)))
        return sent
      }
      const act: Record<string, () => unknown> = {
        press,
        pressTwice: () => Promise.all([press(), press()]),
        serverAway: () => page.away(),
        serverBack: () => page.back(),
        answersLost: () => {
          if (shop.line.state === 'up') shop.line.state = 'answerLost'
        },
        lineGood: () => {
          if (shop.line.state === 'answerLost') shop.line.state = 'up'
        },
        diskFull: () => shop.failNextAppend(),
        reload: () => {
          const isAway = page.link.value === 'away'
          page = shop.page(page.db)
          if (isAway) page.away()
        },
        tryNow: () => page.out.flush(),
        tail: () => page.follow(),
      }
      for (const one of steps) {
        shop.server.clock.advance(SECOND)
        await act[one]?.()
      }
      await page.back()
      // A disk that is still full is asked again.
      while (!(await page.out.flush())) await Promise.resolve()
      await Promise.all(answers)
      const kept = await shop.log()
      const notes = kept.flatMap((e) => (e.type === 'NoteAdded' ? [e.data.text] : []))
      expect(notes).toEqual(pressed)
      page.follow()
      expect(page.out.state.value).toEqual(shop.state())
    }),
    { numRuns: runs(150) },
  )
})
