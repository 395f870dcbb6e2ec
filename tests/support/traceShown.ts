/** What ranking and record have to do, and what of it a test asserts. Common practice, no source. */

type Shown = readonly [what: string, file: string, test: string, asserted: string]

/** How causes are ranked, the test that shows each, and what of it that test asserts. */
export const RANKING: readonly Shown[] = [
  ['ratios by severity', 'machines/trace/rank.test.ts', '%s counts ×%d', 'toBeCloseTo(times)'],
  [
    'evidence in its place',
    'machines/trace/rank.test.ts',
    'only evidence in the right place counts',
    'toBeCloseTo(before)',
  ],
  [
    'what panels shared',
    'machines/trace/rank.test.ts',
    'a cup that sprayed a sound panel as well',
    'toBeCloseTo(0.5)',
  ],
  [
    'what no log shows',
    'machines/trace/rank.test.ts',
    'what is not visible is always there',
    "id === 'notVisible'",
  ],
  [
    'numbers, check, remedy, jump',
    'browser/trace.test.ts',
    'at the size of a %s the timeline',
    'at least 10:00 min',
  ],
  [
    'words of strength',
    'machines/trace/rank.test.ts',
    'nothing recorded decides nothing',
    'verdict.decides).toBe(false)',
  ],
  [
    'worse is never less',
    'machines/trace/rank.test.ts',
    'made worse never lowers its cause',
    'rankOf(after, cause.id)).toBeLessThanOrEqual(rankOf(before',
  ],
  [
    'less is never surer',
    'machines/trace/rank.test.ts',
    'a fact taken away never makes the record surer',
    'surest(after)).toBeLessThanOrEqual(surest(before)',
  ],
  [
    'acting together',
    'machines/trace/rank.test.ts',
    'one group, at most ×12',
    '(12 * sum) / NOT_VISIBLE',
  ],
  [
    'reviews and priors',
    'machines/trace/reviews.test.ts',
    'there are none before thirty reviews',
    'ownPriors(before)).toEqual({})',
  ],
  [
    'planted causes',
    'machines/trace/acceptance.test.ts',
    'planted causes are found',
    'score.first / score.of).toBeGreaterThanOrEqual(0.8)',
  ],
  [
    'a clean job',
    'machines/trace/acceptance.test.ts',
    'a clean job accuses nothing',
    'all.filter(isStrong)).toEqual([])',
  ],
  [
    'no advice beyond a sheet',
    'kiosk/traceWords.test.ts',
    'no sentence tells anyone to go beyond',
    'beyond.test(one))).toEqual([])',
  ],
  [
    'breathing apparatus',
    'browser/trace.test.ts',
    'at the size of a %s the timeline',
    'Isocyanates',
  ],
]

/** What the record and its timeline have to do, and the test that shows each. */
export const RECORD: readonly Shown[] = [
  [
    'append-only',
    'server/log.sqlite.test.ts',
    'refuses %s, whoever asks',
    'toThrow(/entries are/)',
  ],
  [
    'a correction points to what it corrects',
    'machines/rules/voidRules.test.ts',
    'corrects what was typed',
    'd.corrects',
  ],
  [
    'coded reasons of a correction',
    'browser/records.test.ts',
    'solvent and training are typed',
    'data-value=UNIT_ERROR',
  ],
  [
    'a break of the chain is shown',
    'browser/jobExport.test.ts',
    'a changed byte in it is told',
    '[data-check=changed]',
  ],
  [
    'times set back, and both times shown',
    'machines/rules/times.test.ts',
    'a time typed back',
    'toBe(want)',
  ],
  [
    'late entries say when they were recorded',
    'kiosk/traceMarks.test.ts',
    'says when it was recorded',
    'recordedAt).toBe(minute(30))',
  ],
  [
    'order of what came offline',
    'machines/properties/fold.test.ts',
    'in any order of arrival',
    "'in another order'",
  ],
  [
    'genealogy forward',
    'server/genealogy.test.ts',
    'a lot reaches what was sprayed',
    'panelsIn(body)).toEqual([SILL])',
  ],
  ['genealogy back', 'server/genealogy.test.ts', 'a panel names every cup', 'parents.toSorted()'],
  [
    'limits of the day',
    'machines/rules/flash.test.ts',
    'a later edit of the sheet never moves a flash',
    "toBe('flashNotOver')",
  ],
  [
    'deviations and dispositions',
    'machines/trace/deviations.test.ts',
    'a deviation says its limit',
    'toMatchObject({',
  ],
  [
    'open ones hold a close',
    'machines/trace/openDeviations.test.ts',
    'closing a job with a limit',
    "toBe('deviationsOpen')",
  ],
  [
    'those found after a close',
    'machines/trace/foundSince.test.ts',
    'was told after the close is found',
    "'outside flashNotOver'",
  ],
  [
    'reasons speak of conditions',
    'kiosk/traceWords.test.ts',
    'no word of a trace blames a person',
    'blame.test(one))).toEqual([])',
  ],
  [
    'export without a network',
    'browser/jobExport.test.ts',
    'it opens with no network',
    "startsWith('file:')",
  ],
  [
    'rows of the timeline',
    'kiosk/traceMarks.test.ts',
    'every mark stands in a row',
    'marks.map(({ row }) => row)',
  ],
  [
    'allowed and actual',
    'kiosk/traceMarks.test.ts',
    'after what was too early and over what was allowed',
    'wait.to).toBe(band.from)',
  ],
  ['numbers on the marks', 'kiosk/traceSay.test.ts', 'numbers on a mark', 'toBe(text)'],
  [
    'cups against coats',
    'kiosk/traceMarks.test.ts',
    'a coat from after its end is crossed',
    "past?.flags).toEqual(['late'])",
  ],
  ['gaps', 'kiosk/traceMarks.test.ts', 'nobody read it: one open gap', "kind === 'gap'"],
  [
    'zoom and jumps',
    'kiosk/traceMarks.test.ts',
    'comes closer about its middle',
    'zoomed(near, whole, 100)).toEqual(whole)',
  ],
  [
    'names of zones and guns',
    'kiosk/traceMarks.test.ts',
    'zones and guns are called what the shop calls them',
    "'Big booth'",
  ],
  [
    'the table',
    'browser/trace.test.ts',
    'at the size of a %s the timeline',
    'td >> text=not recorded',
  ],
  [
    'compared with good jobs',
    'browser/traceCompare.test.ts',
    'up to three good jobs stand beside it',
    'rows.count()).toBe(4)',
  ],
  [
    'a decision taken back beside them',
    'browser/traceCompare.test.ts',
    'is taken back by the undo bar while jobs',
    "not.toContain('reworked')",
  ],
]
