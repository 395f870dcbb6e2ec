import type { CommandInput } from '../../machines/commands.ts'
import { bodyTypes } from '../../machines/trade/panels.ts'
import { isTaken, thingId } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/fields.tsx'
import { useDraft } from '../forms/useDraft.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice, PageHead, worded } from '../ui/parts.tsx'
import { jobsPath, PANELS } from './names.ts'
import { vehicleText } from './outline.ts'
import { type JobDraft, jobSchema } from './plan.ts'

/** The most colors that a job may have (commands.ts). */
const COLOURS_MOST = 12
const KINDS = ['solid', 'metallic', 'pearl'] as const

type Colour = JobDraft['colours'][number]

/** A job with its colours. Its panels are chosen next. */
export function OpenJob({ now }: { now: number }) {
  const { words } = useShop()
  const { jobs } = words.value
  const { sending, ask } = useCommands()
  const newColour = (n: number): Colour => ({
    key: jobs.colourKeys[n] ?? `${jobs.colour} ${n + 1}`,
    code: '',
    kind: '',
    variant: '',
  })
  const empty = (): JobDraft => ({
    id: thingId(),
    title: '',
    body: 'van',
    vehicle: '',
    colours: [newColour(0)],
  })
  const draft = useDraft('draft.job', jobSchema, empty)
  const change = (part: Partial<JobDraft>) => {
    draft.value = { ...draft.value, ...part }
  }
  const { id, title, body, vehicle, colours } = draft.value
  const submit = async (event: Event) => {
    event.preventDefault()
    const sent = await ask(
      'OpenJob',
      openJobData(draft.value, vehicleText(words.value, body, vehicle)),
    )
    if (!isTaken(sent)) return
    draft.value = empty()
    location.hash = jobsPath(id, PANELS)
  }
  return (
    <div class="form jobs">
      <PageHead title={jobs.newJob} back={jobs.back} backTo={jobsPath()} />
      <form onSubmit={(e) => void submit(e)}>
        <Field
          name="title"
          word={jobs.name}
          value={title}
          onInput={(text) => change({ title: text })}
          required
        />
        <Choice
          word={jobs.body}
          options={worded(
            [...bodyTypes.map((one) => one.id), ''],
            (value) => jobs.vehicle.bodies[value] ?? jobs.vehicle.loose,
          )}
          picked={body}
          onPick={(value) => change({ body: value })}
        />
        <Field
          name="vehicle"
          word={jobs.vehicleSaid}
          value={vehicle}
          onInput={(text) => change({ vehicle: text })}
        />
        <h2>{jobs.colours}</h2>
        {colours.map((colour, i) => (
          <ColourRow
            key={i}
            n={i}
            colour={colour}
            isOnly={colours.length === 1}
            onChange={(part) => change({ colours: colours.with(i, { ...colour, ...part }) })}
            onDrop={() => change({ colours: colours.toSpliced(i, 1) })}
          />
        ))}
        {colours.length < COLOURS_MOST && (
          <Press
            act="addColour"
            onPress={() => change({ colours: [...colours, newColour(colours.length)] })}
          >
            {jobs.addColour}
          </Press>
        )}
        <Answer sending={sending.value} now={now} />
        <button type="submit" class="main" disabled={sending.value.busy}>
          {jobs.open}
        </button>
      </form>
    </div>
  )
}

/** Colours without a code are not sent: the line was left empty. */
function openJobData({ id, title, colours }: JobDraft, vehicle: string): CommandInput<'OpenJob'> {
  const said = colours
    .filter(({ code }) => code.trim() !== '')
    .map(({ key, code, kind, variant }) => ({
      key: key.trim(),
      code: code.trim(),
      ...(kind === '' ? {} : { kind }),
      ...(variant.trim() === '' ? {} : { variant: variant.trim() }),
    }))
  return { job: id, title, colours: said, ...(vehicle === '' ? {} : { vehicle }) }
}

type ColourProps = {
  readonly n: number
  readonly colour: Colour
  readonly isOnly: boolean
  readonly onChange: (part: Partial<Colour>) => void
  readonly onDrop: () => void
}

function ColourRow({ n, colour, isOnly, onChange, onDrop }: ColourProps) {
  const { jobs } = useWords()
  return (
    <fieldset class="framed colour">
      <legend class="minor">{`${jobs.colour} ${n + 1}`}</legend>
      <Field
        name={`colour-key-${n}`}
        word={jobs.colourKey}
        value={colour.key}
        onInput={(key) => onChange({ key })}
      />
      <Field
        name={`colour-code-${n}`}
        word={jobs.colourCode}
        value={colour.code}
        onInput={(code) => onChange({ code })}
      />
      <Field
        name={`colour-variant-${n}`}
        word={jobs.variant}
        value={colour.variant}
        onInput={(variant) => onChange({ variant })}
      />
      <Choice
        word={jobs.colourKind}
        options={worded(KINDS, (kind) => jobs.kinds[kind] ?? kind)}
        picked={colour.kind}
        onPick={(kind) => onChange({ kind: colour.kind === kind ? '' : kind })}
      />
      {!isOnly && (
        <Press isApart onPress={onDrop}>
          {jobs.dropColour}
        </Press>
      )}
    </fieldset>
  )
}
