import { render } from 'preact'
import { BELLS, type BellKind } from '../../../machines/bell/kinds.ts'

/** Every bell's chip in every state, and the digits that must be distinguishable. */

const kinds = Object.keys(BELLS) as BellKind[]
const chips = kinds.flatMap((kind) =>
  ['acknowledged', 'sounding'].map((state) => (
    <div
      key={kind + state}
      class="bell"
      data-sound={BELLS[kind].sound}
      data-state={state}
      style={{ padding: '8px 12px', fontWeight: 700 }}
    >
      {kind} {state}
    </div>
  )),
)
const root = document.querySelector('#kiosk')
if (root)
  render(
    <main class="choices">
      {chips}
      <p class="digits">0O 1Il 8B 12:07 −30 min 4:10 · 23.4 °C</p>
    </main>,
    root,
  )
