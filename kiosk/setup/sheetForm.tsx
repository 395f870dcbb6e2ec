import { type Signal, useSignal } from '@preact/signals'
import { useRef } from 'preact/hooks'
import { PICTOGRAM_PATHS } from '../../labels/layout.ts'
import { check } from '../../machines/accept.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import type { State } from '../../machines/state.ts'
import { type ToldError, wrongText } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import { changed, groupIn, idFrom, read, rowsIn } from '../forms/draft.ts'
import { Field, inWordsOf, type Offer } from '../forms/fields.tsx'
import { type AtForm, FieldsOf, FormOf, nameIn, useForm } from '../forms/form.tsx'
import { Keypad } from '../forms/keypad.tsx'
import type { Draft } from '../forms/spec.ts'
import { Press } from '../ui/buttons.tsx'
import { Fold, worded } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { setupIn } from '../words/setupIn.ts'
import * as own from '../words/sheetForm.ts'
import { useOwnWords } from '../words/words.ts'
import { Curves } from './chart.tsx'
import { SHEET } from './forms.ts'
import { BackHead } from './parts.tsx'
import { SheetFacts } from './sheetFacts.tsx'
import { LoadFile } from './sheetFile.tsx'
import {
  atUsual,
  coatsFrom,
  componentsFrom,
  fieldsOfStep,
  firstTemperatures,
  ROLES,
  ratioText,
  STEPS,
  type Step,
  stepOfField,
  usualC,
} from './sheetSteps.ts'

const SECTION = 'sheets'
export const NEW = 'new'
const FORM = { kind: 'group', fields: SHEET } as const
const SIGNALS = ['DANGER', 'WARNING', 'none'] as const
const PICTOGRAMS = ['flame', 'exclamation', 'health', 'corrosion', 'environment'] as const
const PICTURES: Readonly<Record<string, string>> = {
  ...PICTOGRAM_PATHS,
  health: PICTOGRAM_PATHS.healthHazard,
}

type Props = {
  readonly state: State
  readonly now: number
  readonly original?: Sheet
  /** The sheet that a new one begins as a copy of: it gets a name of its own. */
  readonly from?: Sheet
}

/** A sheet typed from its maker's paper, step by step; nothing is saved before the last. */
export function SheetForm({ state, now, original, from }: Props) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const setup = setupIn(words.value)
  const name = `sheet.${original?.sheet ?? (from ? `${NEW}.${from.sheet}` : NEW)}`
  const draft = useForm(name, SHEET, original ?? (from && { ...from, sheet: undefined, name: '' }))
  const step = useSignal<Step>('product')
  const wrong = useSignal<readonly ToldError[]>([])
  const top = useRef<HTMLDivElement>(null)
  const atC = usualC(state)
  const complete = (value: object): object => {
    const given = value as { sheet?: string; name?: string }
    const taken = Object.keys(state.things.sheet)
    return {
      ...(atUsual(FORM, value, atC) as object),
      coats: coatsGiven(draft.value),
      sheet: original?.sheet ?? given.sheet ?? idFrom(given.name ?? '', taken),
      // What was typed over a sample is one still, until somebody says that it was checked.
      ...((original ?? from)?.sample ? { sample: true } : {}),
    }
  }
  // With keys beside the form a new step can be typed into at once; a phone's own keys would cover it.
  const go = (to: Step) => {
    step.value = to
    top.current?.scrollIntoView({ block: 'start' })
    if (matchMedia('(min-width: 601px)').matches && wrong.value.length === 0)
      requestAnimationFrame(() => firstEmpty(top.current)?.focus())
  }
  const isLast = step.value === 'check'
  const next = STEPS[STEPS.indexOf(step.value) + 1]
  return (
    <div class="stack sheet-form" ref={top}>
      <BackHead section={SECTION} title={original?.name ?? setup.newSheet} />
      {original ? <p class="minor">{setup.newVersion}</p> : <LoadFile draft={draft} />}
      <StepKeys step={step} wrong={wrong.value} onStep={go} />
      <FormOf
        draft={draft}
        name={name}
        fields={SHEET}
        shown={fieldsOfStep(step.value)}
        isPart={!isLast && original === undefined}
        wrongs={wrong}
        keys={isLast ? null : <Keypad signs="ratio" hasNext />}
        {...(original ? { original } : {})}
        schema={sheetSchema}
        complete={complete}
        type="SaveSheet"
        data={(sheet) => ({ sheet })}
        under="data.sheet."
        now={now}
        word={setup.save}
        proposed={proposals(draft.value, atC)}
        offers={useOffers(draft.value)}
        onWrong={([first]) => {
          if (first) step.value = stepOfField(first.field)
        }}
        onSaved={() => {
          location.hash = hashOf('setup', SECTION, original?.sheet ?? '')
        }}
      >
        {(at) => (
          <>
            {step.value === 'product' && <Mix draft={draft} at={at} />}
            {step.value === 'times' && (
              <p class="minor">{say.oneIsEnough(format.value.temperature(atC))}</p>
            )}
            {step.value === 'heat' && <p class="minor">{say.noHeat}</p>}
            {isLast && <Check value={complete(read(FORM, draft.value) as object)} onStep={go} />}
            {next && (
              <Press act="nextStep" isMain={original === undefined} onPress={() => go(next)}>
                {say.next}
              </Press>
            )}
          </>
        )}
      </FormOf>
    </div>
  )
}

const firstEmpty = (within: HTMLElement | null): HTMLInputElement | undefined =>
  [...(within?.querySelectorAll<HTMLInputElement>('.setup-form input[type=text]') ?? [])].find(
    ({ value, offsetParent }) => value === '' && offsetParent !== null,
  )

/** What counts for the coats where one number is given; nothing where none is. */
const coatsGiven = (draft: Draft) =>
  Object.fromEntries(
    Object.entries(coatsFrom(groupIn(draft).coats ?? '')).filter(([, count]) => count !== ''),
  )

function proposals(draft: Draft, atC: number): Readonly<Record<string, Draft>> {
  const coats = Object.entries(coatsGiven(draft)).map(([key, count]) => [`coats.${key}`, count])
  return Object.fromEntries([
    ...firstTemperatures(FORM, draft).map((path) => [path, atC]),
    ...coats,
  ])
}

/** What is chosen by touch: roles, the signal word, the pictograms, the words on the label. */
function useOffers(draft: Draft): Readonly<Record<string, Offer>> {
  const say = useOwnWords(own)
  const role = {
    options: worded(ROLES, (value) => say.roles[value as keyof typeof say.roles]),
    other: { word: say.otherRole, asks: say.otherRoleAsks },
  }
  return {
    ...Object.fromEntries(
      rowsIn(groupIn(draft).components).map((_, n) => [`components.${n}.role`, role]),
    ),
    'hazards.signal': {
      options: worded(SIGNALS, (value) => say.signals[value as keyof typeof say.signals]),
    },
    'hazards.pictograms': {
      options: PICTOGRAMS.map((value) => ({
        value,
        word: say.pictograms[value],
        ...(PICTURES[value] ? { picture: PICTURES[value] } : {}),
      })),
    },
    'hazards.words': {
      options: worded(say.phrases, (phrase) => phrase),
      other: { word: '', asks: say.ownPhrase },
      areSeveral: true,
    },
  }
}

type KeysProps = {
  readonly step: Signal<Step>
  readonly wrong: readonly ToldError[]
  readonly onStep: (to: Step) => void
}

/** The steps; one in which something is wrong says how much. */
function StepKeys({ step, wrong, onStep }: KeysProps) {
  const say = useOwnWords(own)
  return (
    <div class="choices">
      {STEPS.map((one) => {
        const count = wrong.filter(({ field }) => stepOfField(field) === one).length
        return (
          <button
            type="button"
            key={one}
            data-step={one}
            data-wrong={count || undefined}
            aria-pressed={one === step.value}
            onClick={() => onStep(one)}
          >
            {say.steps[one]}
            {count > 0 && ` (${count})`}
          </button>
        )
      })}
    </div>
  )
}

/** The ratio as the trade says it; the parts that it is of, folded away. */
function Mix({ draft, at }: { draft: Signal<Draft>; at: AtForm }) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const { ratio, components = [], percentOf, stage } = groupIn(draft.value)
  const typed = typeof ratio === 'string' ? ratio : ratioText(components)
  const nameOf = (role: string) =>
    (role === 'base' && words.value.stage[stage as keyof typeof words.value.stage]) ||
    say.roles[role as keyof typeof say.roles]
  const put = (text: string) => {
    const of = percentOf === 'base' ? 'base' : 'sum'
    const parts = componentsFrom(text, of, rowsIn(components), nameOf)
    at.change({ ...groupIn(draft.value), ratio: text, components: parts ?? [] })
  }
  const isWrong = at.wrong.some(({ field }) => field === 'components')
  const isNoRatio = typed.trim() !== '' && rowsIn(components).length === 0
  const error: ToldError | null =
    isNoRatio || isWrong ? { code: 'ratio', field: 'ratio', params: {} } : null
  const inside = at.wrong.some(({ field }) => field?.startsWith('components.'))
  return (
    <>
      <Field
        name="ratio"
        word={say.ratio}
        value={typed}
        wrong={
          error &&
          wrongText(error, { words: words.value, format: format.value }, { name: null, typed })
        }
        onInput={put}
      />
      {rowsIn(components).length > 0 && (
        <Fold word={say.parts} act="parts" isOpen={inside}>
          <FieldsOf
            fields={{ components: SHEET.components as (typeof SHEET)[string] }}
            draft={draft.value}
            wrong={at.wrong}
            offers={useOffers(draft.value)}
            onChange={(to) => {
              const { components: parts = [] } = groupIn(to)
              at.change(changed(to, ['ratio'], ratioText(parts)))
            }}
          />
        </Fold>
      )}
    </>
  )
}

/** What was typed, drawn and listed; or what is still open, each with the way to its step. */
function Check({ value, onStep }: { value: object; onStep: (to: Step) => void }) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const checked = check(sheetSchema, value)
  const { fields, choices } = setupIn(words.value)
  if (checked.ok)
    return (
      <>
        <p class="sentence">{say.looksRight}</p>
        <Curves sheet={checked.value} />
        <SheetFacts sheet={checked.value} />
      </>
    )
  return (
    <section class="stack" data-open={checked.errors.length}>
      <p class="sentence">{say.notYet(checked.errors.length)}</p>
      <ul class="rows setup-rows">
        {checked.errors.map((error) => (
          <li key={error.field}>
            <button type="button" class="row" onClick={() => onStep(stepOfField(error.field))}>
              {wrongText(
                inWordsOf(error, { ...words.value.stage, ...choices }),
                { words: words.value, format: format.value },
                { name: nameIn(error, fields) },
              )}
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
