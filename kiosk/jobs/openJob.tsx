import { useMemo } from 'preact/hooks'
import { COMMANDS } from '../../machines/commands.ts'
import { COLOUR_KINDS } from '../../machines/plan/blendPlan.ts'
import { bodyTypes } from '../../machines/trade/panels.ts'
import { thingId } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { groupIn, rowsIn } from '../forms/draft.ts'
import { FormOf, useFormDraft } from '../forms/form.tsx'
import { type Draft, type Fields, fieldsOf } from '../forms/spec.ts'
import { PageHead, worded } from '../ui/parts.tsx'
import { jobsPath, PANELS } from './names.ts'
import { vehicleText } from './outline.ts'

/** The body is a part of the text that OpenJob keeps of the vehicle. */
const FIELDS: Fields = {
  ...fieldsOf(COMMANDS.OpenJob, { only: ['title'] }),
  body: { spec: { kind: 'text', isRatio: false } },
  ...fieldsOf(COMMANDS.OpenJob, { only: ['vehicle', 'colours'] }),
}

type Read = {
  readonly title?: string
  readonly body?: string
  readonly vehicle?: string
  readonly colours?: readonly { readonly code?: string }[]
}

/** A job with its colors. Its panels are chosen next. */
export function OpenJob({ now }: { now: number }) {
  const { words, format } = useShop()
  const { jobs, bench } = words.value
  const newColour = (n: number) => ({ key: jobs.colourKeys[n] ?? `${jobs.colour} ${n + 1}` })
  const start = { body: 'van', colours: [newColour(0)] }
  const draft = useFormDraft('job', () => start)
  // Kept with what was typed: pressed again after a reload it is the same job, and opened once.
  const id = useMemo(() => {
    const typed = groupIn(draft.value)
    const kept = typeof typed.job === 'string' ? typed.job : thingId()
    draft.value = { ...typed, job: kept }
    return kept
  }, [])
  const rows = rowsIn(groupIn(draft.value).colours)
  const { body: on } = groupIn(draft.value)
  const bodyWord = jobs.vehicle.bodies[String(on)] ?? jobs.vehicle.loose
  // A job can be opened by touch alone: what it is called may be typed, and need not.
  const title = `${bodyWord}, ${format.value.date(now, now)} ${format.value.time(now)}`
  const complete = (value: object) => {
    const { body = null, vehicle: said = '', colours = [], ...job } = value as Read
    const vehicle = vehicleText(words.value, body, said)
    return {
      title,
      ...job,
      job: id,
      // A color without a code was left empty.
      colours: colours.filter(({ code }) => code !== undefined),
      ...(vehicle === '' ? {} : { vehicle }),
    }
  }
  /** A color that was added is that of the next part. */
  const settle = (to: Draft): Draft => {
    const colours = rowsIn(groupIn(to).colours)
    if (colours.length <= rows.length) return to
    const added = { ...groupIn(colours.at(-1) ?? ''), ...newColour(rows.length) }
    return { ...groupIn(to), colours: [...rows, added] }
  }
  const kind = {
    options: worded(['', ...COLOUR_KINDS], (value) => jobs.kinds[value] ?? bench.notSaid),
  }
  return (
    <div class="form jobs">
      <PageHead title={jobs.newJob} back={jobs.back} backTo={jobsPath()} />
      <FormOf
        name="job"
        draft={draft}
        original={start}
        fields={FIELDS}
        schema={COMMANDS.OpenJob}
        complete={complete}
        type="OpenJob"
        data={(value) => value}
        now={now}
        word={jobs.open}
        fieldWords={jobs.fields}
        offers={{
          body: {
            options: worded(
              [...bodyTypes.map((one) => one.id), ''],
              (value) => jobs.vehicle.bodies[value] ?? jobs.vehicle.loose,
            ),
          },
          ...Object.fromEntries(rows.map((_, n) => [`colours.${n}.kind`, kind])),
        }}
        proposed={{ title }}
        settle={settle}
        onSaved={() => {
          location.hash = jobsPath(id, PANELS)
        }}
      />
    </div>
  )
}
