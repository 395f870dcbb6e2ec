import type { InUse } from '../refusalParams.ts'
import { events } from './names.es.ts'
import { needingText } from './needing.ts'
import type { Figures } from './types.ts'

/** Why an entry is not voided. */
export function notVoided(limit: InUse, f: Figures): string {
  if (limit.why === 'void') return 'Lo deshecho no se puede deshacer.'
  if (limit.why === 'voided') return 'Esto ya se deshizo.'
  if (limit.why === 'letGo')
    return 'Pasadas 12 horas no se puede deshacer. Si la zona quizá no está despejada, siga con la máscara.'
  if (limit.why === 'rested')
    return limit.needing
      ? `Algo necesita esto: ${needingText(limit.needing, events, 'vaso', f)}. Deshaga eso primero.`
      : `No se puede deshacer: la entrada ${limit.entry} lo necesita.`
  const name = limit.name ?? limit.id
  return limit.kind === 'sheet'
    ? `No se puede deshacer: la ficha ${name} está en uso.`
    : `No se puede deshacer: el trabajo ${name} tiene paneles o vasos.`
}
