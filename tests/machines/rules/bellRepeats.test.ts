import { expect, test } from 'vitest'
import { nextPlayInMs, type SoundName } from '../../../machines/bell/kinds.ts'

/** The moments at which a bell that nobody answers is heard again, second by second. */

const MOST_PLAYS = 30

/** When a sound is played within a number of seconds; each play is counted from the last one. */
function playsS(sound: SoundName, untilS: number): number[] {
  const plays = [0]
  while (plays.length < MOST_PLAYS) {
    const last = plays.at(-1) ?? 0
    const wait = nextPlayInMs(sound, last * 1000)
    if (wait === null || last + wait / 1000 > untilS) return plays
    plays.push(last + wait / 1000)
  }
  return plays
}

test.each<[SoundName, number[]]>([
  ['A', [0, 20, 40, 60, 120, 300]],
  ['D', [0, 30, 60, 300]],
  ['B1', [0, 12, 24, 36, 48, 60, 120, 180, 240, 300, 360, 420, 480, 540, 600]],
  ['C1', [0, 10, 20, 30, 40, 50, 110, 170, 230, 290, 350, 410, 470, 530, 590]],
  ['C2', [0, 30, 60, 90, 120]],
])('%s is played at these seconds of its first ten minutes', (sound, seconds) => {
  expect(playsS(sound, 600)).toEqual(seconds)
})

test('B2 is played every five seconds of its first minute, then every ten', () => {
  const first = [0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60]
  expect(playsS('B2', 100)).toEqual([...first, 70, 80, 90, 100])
})

test('what was only played late, for want of a turn, leaves out a beat that is half an interval away or less', () => {
  const nextS = (sound: SoundName, elapsedS: number) => {
    const wait = nextPlayInMs(sound, elapsedS * 1000)
    return wait === null ? null : (elapsedS * 1000 + wait) / 1000
  }
  // Of A the beats at 20, 40 and 60 s stand 20 s apart, that at 120 s stands 60 s after the last.
  expect([9.999, 10, 29.999, 30, 89.999, 90].map((s) => nextS('A', s))).toEqual([
    20, 40, 40, 60, 120, 300,
  ])
  expect([209.999, 210, 300, 900].map((s) => nextS('A', s))).toEqual([300, null, null, null])
  // Of B1 the beat goes on every minute after the sixtieth second.
  expect([53.999, 54, 89.999, 90, 149.999, 150].map((s) => nextS('B1', s))).toEqual([
    60, 120, 120, 180, 180, 240,
  ])
})
