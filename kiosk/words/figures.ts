/** How the bells did. What is normal is named with its source, as the standards are known. */
export const en = {
  title: 'How the bells did',
  days: { 1: 'Last day', 7: '7 days', 30: '30 days' } as Record<number, string>,
  reading: 'Reading the log …',
  away: 'The server is away. These figures are read from its log, and come when it is back.',
  unread:
    'The server could not read its log: there are no figures. Somebody has to look at the server.',
  nothing: 'Nothing rang in this time. The figures stand here once it has.',
  rate: 'times in ten minutes each kiosk called, on average',
  rateNormal: 'About 1 is acceptable, 2 is the most that can be managed (ISA-18.2, EEMUA 191).',
  rateIs: {
    acceptable: 'Acceptable.',
    manageable: 'Below the ceiling, above what is acceptable.',
    tooMany: 'Too many: see below what calls most.',
  },
  peak: (when: string) => `calls in the busiest ten minutes, ${when}`,
  peakNormal: 'More than 10 in ten minutes are a flood: nobody follows them (EEMUA 191).',
  floods: 'of all ten minutes were floods',
  floodsNormal: 'Below 1 % is the aim.',
  floodsIs: { good: 'Within the aim.', bad: 'Over the aim.' },
  floodMode: (n: number) =>
    n === 1
      ? 'Once a kiosk sounded only what was most urgent.'
      : `${n} times a kiosk sounded only what was most urgent.`,
  median: 'until half of the bells were acknowledged',
  p95: (time: string) => `95 of 100 were acknowledged within ${time}.`,
  noneAcknowledged: 'Nothing was acknowledged.',
  never: (rang: string) => `of ${rang} that rang, nobody acknowledged`,
  escalated: (n: number) => `${n} called further people, unanswered.`,
  held: (n: number) => `${n} × a bell was kept quiet: it called again and again.`,
  neverNormal: 'A prompt may end by what was done, without a press. An alarm wants a press.',
  shares: 'How urgent they were',
  share: {
    prompt: 'prompts: a step may go on',
    medium: 'alarms: a limit is near or past',
    high: 'urgent: pot life past',
  },
  shareNormal: (percent: string) => `about ${percent} is usual`,
  sharesNormal: 'Usual shares: ISA-18.2, IEC 62682, over 30 days.',
  highTooOften:
    'More than 10 % were urgent. Urgent bells that are no exception are no longer heard: mix less at a time, or later.',
  highFine: 'Urgent bells stayed below 10 %.',
  sources: 'What called most',
  times: (n: number) => `${n} ×`,
  cup: (id: string) => `cup ${id}`,
  once: 'A bell counts once, however many kiosks rang it; what was voided never rang.',
  openHours: 'Only open hours count, and whatever rang outside them.',
  everyHour: 'Day and night count: the shop has set no hours (Setup, Shop).',
}

export const es: typeof en = {
  title: 'Cómo han ido los timbres',
  days: { 1: 'Último día', 7: '7 días', 30: '30 días' },
  reading: 'Leyendo el registro …',
  away: 'El servidor no responde. Estas cifras se leen de su registro y llegarán cuando vuelva.',
  unread:
    'El servidor no ha podido leer su registro: no hay cifras. Alguien tiene que mirar el servidor.',
  nothing: 'No ha sonado nada en este tiempo. Las cifras estarán aquí cuando suene.',
  rate: 'veces en diez minutos ha llamado cada quiosco, de media',
  rateNormal: 'Alrededor de 1 es aceptable, 2 es lo máximo manejable (ISA-18.2, EEMUA 191).',
  rateIs: {
    acceptable: 'Aceptable.',
    manageable: 'Bajo el techo, sobre lo aceptable.',
    tooMany: 'Demasiadas: mire abajo qué llama más.',
  },
  peak: (when) => `llamadas en los diez minutos más cargados, ${when}`,
  peakNormal: 'Más de 10 en diez minutos son una avalancha: nadie las sigue (EEMUA 191).',
  floods: 'de todos los diez minutos fueron avalanchas',
  floodsNormal: 'El objetivo es menos del 1 %.',
  floodsIs: { good: 'Dentro del objetivo.', bad: 'Por encima del objetivo.' },
  floodMode: (n) =>
    n === 1
      ? 'Una vez un quiosco hizo sonar solo lo más urgente.'
      : `${n} veces un quiosco hizo sonar solo lo más urgente.`,
  median: 'hasta contestar la mitad de los timbres',
  p95: (time) => `95 de cada 100 se contestaron en ${time}.`,
  noneAcknowledged: 'No se contestó ninguno.',
  never: (rang) => `de ${rang} que sonaron no los contestó nadie`,
  escalated: (n) => `${n} llamaron a más gente, sin respuesta.`,
  held: (n) => `${n} × se calló un timbre que llamaba una y otra vez.`,
  neverNormal: 'Un aviso puede acabar por lo hecho, sin pulsar. Una alarma pide pulsar.',
  shares: 'Su urgencia',
  share: {
    prompt: 'avisos: se puede dar un paso',
    medium: 'alarmas: un límite está cerca o pasado',
    high: 'urgentes: vida útil pasada',
  },
  shareNormal: (percent) => `lo habitual es ${percent}`,
  sharesNormal: 'Proporciones habituales: ISA-18.2, IEC 62682, en 30 días.',
  highTooOften:
    'Más del 10 % fueron urgentes. Lo urgente que no es excepción deja de oírse: mezcle menos cada vez, o más tarde.',
  highFine: 'Los urgentes no pasan del 10 %.',
  sources: 'Qué llama más',
  times: (n) => `${n} ×`,
  cup: (id) => `vaso ${id}`,
  once: 'Un timbre cuenta una vez, suene en los quioscos que suene; lo anulado no ha sonado.',
  openHours: 'Solo cuentan las horas de apertura, y lo que sonó fuera de ellas.',
  everyHour: 'Cuentan día y noche: el taller no tiene horario (Ajustes, Taller).',
}
