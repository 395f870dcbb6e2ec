import { useSignal } from '@preact/signals'
import { isPresent } from '../../machines/people/fold.ts'
import type { State } from '../../machines/state.ts'
import { printTroubleText } from '../../machines/words/printing.ts'
import { useShop } from '../commands/shop.ts'
import { isOnItsWay, usePrinting } from '../device/usePrinting.ts'
import { Field } from '../forms/fields.tsx'
import { lanesOf } from '../lanes/lanes.ts'
import { Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice, worded } from '../ui/parts.tsx'
import * as own from '../words/tags.ts'
import { useOwnWords } from '../words/words.ts'

const KINDS = ['job', 'panel', 'person', 'gun', 'shelf', 'commands'] as const
type Kind = (typeof KINDS)[number]
const PAPERS = ['4x6', 'A4', 'letter'] as const
const CODES = ['qr', 'code128'] as const
const EVERY_MS = 1_000

type Thing = { readonly id: string; readonly name: string }

/** What there is to print of a kind, by name. */
export function thingsOf(kind: Kind, state: State, now: number): Thing[] {
  const { job, person, gun, sheet } = state.things
  const things = (): Thing[] => {
    switch (kind) {
      case 'job':
        return Object.entries(job)
          .filter(([, { value }]) => value === 'open' || value === 'paused')
          .map(([id, { context }]) => ({ id, name: context.title }))
      case 'panel':
        return lanesOf(state, now).map(({ panel, name }) => ({ id: panel, name }))
      case 'person':
        return Object.entries(person)
          .filter(([, { context }]) => isPresent(context))
          .map(([id, { context }]) => ({ id, name: context.name }))
      case 'gun':
        return Object.entries(gun).map(([id, { context }]) => ({
          id,
          name: context.spec?.name ?? id,
        }))
      case 'shelf':
        return Object.entries(sheet)
          .filter(([, { context }]) => context.retiredAt === null)
          .map(([id, { context }]) => ({ id, name: context.versions.at(-1)?.sheet.name ?? id }))
      case 'commands':
        return [{ id: 'all', name: '' }]
    }
  }
  return things().sort((a, b) => (a.name < b.name ? -1 : 1))
}

type Props = { readonly state: State; readonly now: number }

/** Tags, badges and sheets: what kind, of what, on what paper; how it will look; and two ways to print it. */
export function Prints({ state, now }: Props) {
  const say = useOwnWords(own)
  const kind = useSignal<Kind>('job')
  const picked = useSignal<string | null>(null)
  const lot = useSignal('')
  const paper = useSignal<(typeof PAPERS)[number]>('4x6')
  const code = useSignal<(typeof CODES)[number]>('qr')
  const things = thingsOf(kind.value, state, now)
  const only = things.length === 1 ? things[0] : undefined
  const thing = things.find(({ id }) => id === picked.value) ?? only
  const isSheet = kind.value === 'job' || kind.value === 'commands'
  const lotSaid = kind.value === 'shelf' ? lot.value.trim() : ''
  const query = new URLSearchParams({
    ...(isSheet ? { paper: paper.value, code: code.value } : {}),
    ...(lotSaid === '' ? {} : { lot: lotSaid }),
  })
  const address = (form: string) => `/api/labels/${kind.value}/${thing?.id}.${form}?${query}`
  return (
    <section class="stack prints" data-prints={kind.value}>
      <h2>{say.title}</h2>
      <Choice
        name="printKind"
        word={say.kind}
        picked={kind.value}
        options={worded(KINDS, (one) => say.kinds[one as Kind])}
        onPick={(one) => {
          kind.value = one as Kind
          picked.value = null
        }}
      />
      {things.length === 0 && <p>{say.nothing[kind.value]}</p>}
      {things.length > 1 && (
        <Choice
          name="printThing"
          word={say.which}
          picked={thing?.id ?? null}
          options={things.map(({ id, name }) => ({ value: id, word: name }))}
          onPick={(id) => {
            picked.value = id
          }}
        />
      )}
      {kind.value === 'shelf' && thing && (
        <Field
          name="lot"
          word={say.lotField}
          value={lot.value}
          onInput={(text) => {
            lot.value = text.slice(0, 60)
          }}
        />
      )}
      {isSheet && (
        <div class="columns">
          <Choice
            name="printPaper"
            word={say.paper}
            picked={paper.value}
            options={worded(PAPERS, (one) => say.papers[one as keyof typeof say.papers])}
            onPick={(one) => {
              paper.value = one as (typeof PAPERS)[number]
            }}
          />
          <Choice
            name="printCode"
            word={say.code}
            picked={code.value}
            options={worded(CODES, (one) => say.codes[one as keyof typeof say.codes])}
            onPick={(one) => {
              code.value = one as (typeof CODES)[number]
            }}
          />
        </div>
      )}
      {thing && (
        <>
          <Preview key={address('svg')} src={address('svg')} name={thing.name} isSheet={isSheet} />
          <div class="acts">
            <OnPrinter
              key={`${kind.value} ${thing.id}`}
              ask={{
                kind: kind.value,
                thing: thing.id,
                ...(lotSaid === '' ? {} : { lot: lotSaid }),
              }}
              now={now}
            />
            <a class="button" data-act="pdf" href={address('pdf')} target="_blank" rel="noreferrer">
              <span>
                {say.pdf}
                <small>{say.pdfSmall}</small>
              </span>
            </a>
          </div>
        </>
      )}
    </section>
  )
}

type PreviewProps = { readonly src: string; readonly name: string; readonly isSheet: boolean }

function Preview({ src, name, isSheet }: PreviewProps) {
  const say = useOwnWords(own)
  const isBroken = useSignal(false)
  if (isBroken.value) return <p class="sentence">{say.noPreview}</p>
  return (
    <img
      class={isSheet ? 'preview sheet' : 'preview'}
      alt={name}
      src={src}
      onError={() => {
        isBroken.value = true
      }}
    />
  )
}

type OnProps = {
  readonly ask: { readonly kind: Kind; readonly thing: string; readonly lot?: string }
  readonly now: number
}

/** On a printer of the shop; nothing where it has none. */
function OnPrinter({ ask, now }: OnProps) {
  const { words } = useShop()
  const say = useOwnWords(own)
  const prints = usePrinting(now, EVERY_MS)
  const sent = useSignal<string | null>(null)
  const answer = prints.answer.value
  const printer = prints.printerOf(ask.kind)
  if (answer === null || printer === undefined) return null
  const job = answer.jobs.find(({ id }) => id === sent.value)
  const error = prints.error.value
  return (
    <>
      {error && <Sentence>{error === 'away' ? say.away : error.message}</Sentence>}
      {job && (
        <p role="status" data-print-step={job.step}>
          {say.steps[job.step]} {job.trouble && printTroubleText(job.trouble, words.value.locale)}
        </p>
      )}
      {!isOnItsWay(job) && (
        <Press
          act="printThing"
          isMain
          onPress={async () => {
            sent.value = await prints.send(ask)
          }}
        >
          <span>
            {say.print}
            <small>{say.on(printer.name)}</small>
          </span>
        </Press>
      )}
    </>
  )
}
