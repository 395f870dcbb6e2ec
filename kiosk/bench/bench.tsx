import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { JobContext } from '../../machines/job/machine.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { pourTargets, runningReadings } from '../../machines/trade/pour.ts'
import { hashOf } from '../route.ts'
import { Cautions } from '../scanning/cup.tsx'
import type { ViewProps } from '../shell.tsx'
import { Answer } from '../shop/answer.tsx'
import { Choice } from '../shop/choice.tsx'
import { useShop } from '../shop/context.ts'
import { thingId } from '../shop/ids.ts'
import { isTaken } from '../shop/send.ts'
import { useSend } from '../shop/useSend.ts'

const STEP_ML = 50

/** Mix a cup: product, amount, activator; what to pour; mixed; the label. */
export function Bench({ kiosk, rest }: ViewProps) {
  const { state, words } = useShop()
  const mixed = useSignal<string | null>(null)
  if (!state.value) return <p class="minor">…</p>
  const sheets = currentSheets(state.value)
  const { bench } = words.value
  if (sheets.length === 0) return <p class="sentence">{bench.noSheets}</p>
  if (mixed.value !== null) {
    return (
      <Label
        id={mixed.value}
        onDone={() => {
          mixed.value = null
        }}
      />
    )
  }
  return (
    <Mix
      state={state.value}
      sheets={sheets}
      now={kiosk.reading.value.nowMs}
      wanted={rest}
      onMixed={(id) => {
        mixed.value = id
      }}
    />
  )
}

type MixProps = {
  readonly state: State
  readonly sheets: readonly Sheet[]
  readonly now: number
  /** Product and job that the way here named. */
  readonly wanted: readonly string[]
  readonly onMixed: (id: string) => void
}

function Mix({ state, sheets, now, wanted, onMixed }: MixProps) {
  const { words } = useShop()
  const { bench } = words.value
  const { sending, ask } = useSend()
  const sheetId = useSignal(wanted[0] ?? sheets[0]?.sheet ?? '')
  const totalMl = useSignal(300)
  const job = useSignal(wanted[1] ?? '')
  const colour = useSignal('')
  const activator = useSignal('')
  const reducer = useSignal('')
  useEffect(() => {
    if (wanted[0]) sheetId.value = wanted[0]
    if (wanted[1]) job.value = wanted[1]
  }, [wanted[0], wanted[1]])
  const sheet = sheets.find((s) => s.sheet === sheetId.value) ?? (sheets[0] as Sheet)
  const jobs = Object.entries(state.things.job).filter(
    ([, t]) => t.value === 'open' || t.value === 'paused',
  )
  const colours = (state.things.job[job.value]?.context as JobContext | undefined)?.colours ?? []
  const mix = async () => {
    const cup = thingId()
    const given = (key: string, value: string) => (value === '' ? {} : { [key]: value })
    const sent = await ask('MixCup', {
      cup,
      sheet: sheet.sheet,
      totalMl: totalMl.value,
      ...given('job', job.value),
      ...given('colour', colour.value),
      ...given('activator', activator.value),
      ...given('reducer', reducer.value),
    })
    if (isTaken(sent)) {
      await ask('PrintLabel', { cup })
      onMixed(cup)
    }
  }
  const names = (options: readonly { name: string; fromC: number; toC: number }[]) => [
    { value: '', word: bench.none },
    ...options.map((o) => ({ value: o.name, word: `${o.name} ${o.fromC}–${o.toC} °C` })),
  ]
  return (
    <div class="form">
      <h2>{bench.title}</h2>
      <Choice
        name={bench.product}
        picked={sheetId}
        options={sheets.map((s) => ({ value: s.sheet, word: s.name }))}
      />
      <fieldset class="amount">
        <legend class="minor">{bench.total}</legend>
        <button
          type="button"
          onClick={() => {
            totalMl.value = Math.max(STEP_ML, totalMl.value - STEP_ML)
          }}
        >
          −
        </button>
        <output class="digits">{totalMl.value} mL</output>
        <button
          type="button"
          onClick={() => {
            totalMl.value += STEP_ML
          }}
        >
          +
        </button>
      </fieldset>
      {sheet.activators.length > 0 && (
        <Choice name={bench.activator} picked={activator} options={names(sheet.activators)} />
      )}
      {sheet.reducers.length > 0 && (
        <Choice name={bench.reducer} picked={reducer} options={names(sheet.reducers)} />
      )}
      <Choice
        name={bench.forJob}
        picked={job}
        options={[
          { value: '', word: bench.stock },
          ...jobs.map(([id, t]) => ({ value: id, word: (t.context as JobContext).title })),
        ]}
      />
      {colours.length > 0 && (
        <Choice
          name={bench.colour}
          picked={colour}
          options={[
            { value: '', word: bench.none },
            ...colours.map((c) => ({ value: c.key, word: c.code })),
          ]}
        />
      )}
      <Targets sheet={sheet} totalMl={totalMl.value} />
      <Answer sending={sending.value} now={now} />
      <button
        type="button"
        class="main"
        data-act="MixCup"
        disabled={sending.value.busy}
        onClick={() => void mix()}
      >
        {bench.mixed}
      </button>
      <Cautions isIsocyanate={sheet.hazards?.isocyanate ?? true} />
    </div>
  )
}

/** What to pour: by volume, and as the scale's running readings where the sheet gives densities. */
function Targets({ sheet, totalMl }: { sheet: Sheet; totalMl: number }) {
  const { words } = useShop()
  const parts = sheet.components.map((c) => c.parts)
  const densities = sheet.components.map((c) => c.densityGPerMl)
  const known = densities.filter((d) => d !== undefined)
  const hasAll = known.length === densities.length
  if (sheet.by === 'mass' && !hasAll) return null
  const targets = pourTargets(parts, sheet.by, totalMl, hasAll ? known : undefined)
  const grams = targets.map((t) => t.g)
  const scale = hasAll ? runningReadings(grams.map((g) => g ?? 0)) : []
  return (
    <table class="targets">
      <caption class="minor">{words.value.bench.pour}</caption>
      <tbody>
        {sheet.components.map((c, i) => (
          <tr key={c.name}>
            <th scope="row">{c.name}</th>
            <td class="digits">{Math.round(targets[i]?.ml ?? 0)} mL</td>
            <td class="digits">
              {scale[i] === undefined ? '' : `${Math.round(scale[i] * 10) / 10} g`}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** The label as printed; if the printer fails it can be copied by hand. */
function Label({ id, onDone }: { id: string; onDone: () => void }) {
  const { words } = useShop()
  return (
    <div class="form">
      <h2>
        {words.value.bench.label} <span class="digits">{id}</span>
      </h2>
      <img class="label" alt={id} src={`/api/labels/cup/${id}.svg`} />
      <p class="minor">{words.value.bench.copyByHand}</p>
      <div class="acts">
        <a class="button main" href={hashOf('scan', id)}>
          {words.value.screens.scan}
        </a>
        <button type="button" onClick={onDone}>
          {words.value.act.close}
        </button>
      </div>
    </div>
  )
}
