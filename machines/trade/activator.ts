import { airC, fields, list, text } from '../accept.ts'
import { calculator, crossChecked, type Wrong } from './calculator.ts'

type Option = { readonly name: string; readonly fromC: number; readonly toC: number }

function rangesRight({ options }: { readonly options: readonly Option[] }): Wrong | null {
  const wrong = options.findIndex((o) => o.toC < o.fromC)
  if (wrong < 0) return null
  const { fromC } = options[wrong] as Option
  return {
    path: ['options', wrong, 'toC'],
    code: 'noLowerThan',
    params: { field: 'fromC', atC: fromC },
  }
}

const holds = (option: Option, tempC: number) => option.fromC <= tempC && tempC <= option.toC

/** Of ranges that all hold the warmest hour: one that holds now as well, then the slowest. */
function choose(options: readonly Option[], nowC: number, warmestC: number): Option | undefined {
  return options
    .filter((option) => holds(option, warmestC))
    .toSorted((a, b) => Number(holds(b, nowC)) - Number(holds(a, nowC)) || b.toC - a.toC)[0]
}

const range = (option: Option) => `${option.fromC} to ${option.toC} °C`

function why(option: Option, nowC: number, warmestC: number): string {
  const warmest = `It will be up to ${warmestC} °C, and ${option.name} is for ${range(option)}`
  if (holds(option, nowC)) return `${warmest}; it also suits the ${nowC} °C of now.`
  return `${warmest}. At the ${nowC} °C of now it is below its range and will be slow.`
}

/**
 * Which of a sheet's activators, or reducers, for today. In: each with the °C its maker gives, the
 * air now and at its warmest while the work lasts. Out: its name, null when none is made for that
 * temperature, and why.
 */
export const activator = calculator({
  name: 'activator',
  schema: crossChecked(
    fields({
      options: list(fields({ name: text(120), fromC: airC, toC: airC }), 1, 20),
      nowC: airC,
      warmestC: airC,
    }),
    rangesRight,
  ),
  about: {
    formula:
      'The option whose range contains the warmer of now and warmest; of several, one that also contains now, then the one with the highest toC',
    units: '°C, as the maker’s sheet gives each range',
    source: 'common practice, no source: the slower activator on a warm day',
    caution:
      'Only options on the sheet are compared, by their own ranges: outside them nothing is proposed. Size of the job and air movement matter too.',
  },
  run: ({ options, nowC, warmestC }) => {
    const warmest = Math.max(nowC, warmestC)
    const option = choose(options, nowC, warmest)
    if (option) return { name: option.name, why: why(option, nowC, warmest) }
    const ranges = options.map((o) => `${o.name} ${range(o)}`).join(', ')
    return { name: null, why: `None is made for ${warmest} °C (${ranges}): ask the maker’s sheet.` }
  },
})
