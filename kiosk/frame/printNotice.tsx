import type { PrintingStanding } from '../../machines/contract/printing.ts'
import { useServer } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/printers.ts'
import { useOwnWords } from '../words/words.ts'

/** Why no label comes out, and which cups are without one: on every screen until it is mended. */
export function PrintNotice() {
  const standing = useServer()?.said.value?.printing
  return standing ? <Said {...standing} /> : null
}

function Said({ printers, cups }: PrintingStanding) {
  const say = useOwnWords(own)
  return (
    <section class="notice" role="alert" data-printing={printers[0]?.trouble.code ?? 'cups'}>
      {printers.map(({ name, trouble }) => (
        <p key={name}>{say.named(name, say.trouble(trouble))}</p>
      ))}
      {cups.length > 0 && <p>{say.cupsWithout}:</p>}
      <div class="keys">
        {cups.map((cup) => (
          <a class="button digits" key={cup} href={hashOf('cups', cup)}>
            {cup}
          </a>
        ))}
        {cups.length === 0 && (
          <a class="button" href={hashOf('setup', 'printers')}>
            {say.title}
          </a>
        )}
      </div>
    </section>
  )
}
