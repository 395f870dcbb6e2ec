/** How the bells did. What is normal is named with its source. */
export const en = {
  title: 'How the bells did',
  days: { 1: 'Last day', 7: '7 days', 30: '30 days' } as Record<number, string>,
  reading: 'Reading the log …',
  away: 'Server away. These figures come from its log and will be here when it is back.',
  unread:
    'The server could not read its log, so there are no figures. Have somebody check the server.',
  nothing: 'Nothing rang in this time. Figures appear after the first bell.',
  rate: 'bells in ten minutes at each kiosk, on average',
  rateNormal: 'About 1 is acceptable, 2 is the most that people can manage (ISA-18.2, EEMUA 191).',
  rateIs: {
    acceptable: 'Acceptable.',
    manageable: 'More than acceptable, but manageable.',
    tooMany: 'Too many: see below what rang most.',
  },
  peak: (when: string) => `bells in the busiest ten minutes, ${when}`,
  peakNormal: 'More than 10 in ten minutes are a flood: nobody can follow them (EEMUA 191).',
  floods: 'of all ten-minute periods were floods',
  floodsNormal: 'The goal is below 1 %.',
  floodsIs: { good: 'Goal met.', bad: 'Goal missed.' },
  floodMode: (n: number) =>
    n === 1
      ? 'Once a kiosk sounded only its most urgent bells.'
      : `${n} times a kiosk sounded only its most urgent bells.`,
  median: 'until half of the bells were acknowledged',
  p95: (time: string) => `95 of 100 were acknowledged within ${time}.`,
  noneAcknowledged: 'Nothing was acknowledged.',
  never: (rang: string) => `of ${rang} bells were never acknowledged`,
  escalated: (n: number) => `${n} called more people because nobody answered.`,
  held: (n: number) => `${n} × a bell was kept quiet because it rang again and again.`,
  neverNormal: 'A prompt ends when the work is done, without a press. An alarm needs a press.',
  shares: 'How urgent they were',
  share: {
    prompt: 'prompts: ready for the next step',
    medium: 'alarms: a limit is near or past',
    high: 'urgent: pot life past',
  },
  shareNormal: (percent: string) => `about ${percent} is usual`,
  sharesNormal: 'Usual shares: ISA-18.2, IEC 62682, over 30 days.',
  highTooOften:
    'More than 10 % were urgent. People stop hearing urgent bells that ring often: mix less at a time, or later.',
  highFine: 'Urgent bells stayed below 10 %.',
  sources: 'What rang most',
  times: (n: number) => `${n} ×`,
  cup: (id: string) => `cup ${id}`,
  once: 'A bell counts once, however many kiosks rang it. Voided ones do not count.',
  openHours: 'Averages are over open hours; bells outside them count too.',
  everyHour: 'Averages are over day and night: no opening hours are set (Setup, Shop).',
}

export const es: typeof en = {
  title: 'Cómo van los timbres',
  days: { 1: 'Último día', 7: '7 días', 30: '30 días' },
  reading: 'Leyendo el registro …',
  away: 'Sin servidor. Estas cifras salen de su registro y estarán aquí cuando vuelva.',
  unread:
    'El servidor no pudo leer su registro: no hay cifras. Pida que alguien revise el servidor.',
  nothing: 'No sonó nada en este tiempo. Las cifras aparecen con el primer timbre.',
  rate: 'timbres en diez minutos en cada terminal, en promedio',
  rateNormal: 'Alrededor de 1 es aceptable, 2 es lo máximo manejable (ISA-18.2, EEMUA 191).',
  rateIs: {
    acceptable: 'Aceptable.',
    manageable: 'Más de lo aceptable, pero manejable.',
    tooMany: 'Demasiados: vea abajo qué suena más.',
  },
  peak: (when) => `timbres en los diez minutos más cargados, ${when}`,
  peakNormal: 'Más de 10 en diez minutos son una avalancha: nadie puede seguirlos (EEMUA 191).',
  floods: 'de todos los periodos de diez minutos fueron avalanchas',
  floodsNormal: 'La meta es menos del 1 %.',
  floodsIs: { good: 'Meta cumplida.', bad: 'Meta no cumplida.' },
  floodMode: (n) =>
    n === 1
      ? 'Una vez una terminal hizo sonar solo lo más urgente.'
      : `${n} veces una terminal hizo sonar solo lo más urgente.`,
  median: 'hasta atender la mitad de los timbres',
  p95: (time) => `95 de cada 100 se atendieron en ${time}.`,
  noneAcknowledged: 'No se atendió ninguno.',
  never: (rang) => `de ${rang} timbres nunca se atendieron`,
  escalated: (n) => `${n} llamaron a más gente porque nadie respondió.`,
  held: (n) => `${n} × se calló un timbre que sonaba una y otra vez.`,
  neverNormal:
    'Un aviso termina cuando se hace el trabajo, sin presionar. Una alarma hay que atenderla.',
  shares: 'Su urgencia',
  share: {
    prompt: 'avisos: listo para el siguiente paso',
    medium: 'alarmas: un límite está cerca o vencido',
    high: 'urgentes: vida útil vencida',
  },
  shareNormal: (percent) => `lo habitual es ${percent}`,
  sharesNormal: 'Proporciones habituales: ISA-18.2, IEC 62682, en 30 días.',
  highTooOften:
    'Más del 10 % fueron urgentes. Si suenan seguido, la gente deja de oírlos: mezcle menos cada vez, o más tarde.',
  highFine: 'Los urgentes no pasan del 10 %.',
  sources: 'Qué suena más',
  times: (n) => `${n} ×`,
  cup: (id) => `vaso ${id}`,
  once: 'Un timbre cuenta una vez, aunque suene en varias terminales. Los anulados no cuentan.',
  openHours: 'El promedio es sobre las horas abiertas; los timbres fuera de ellas también cuentan.',
  everyHour: 'El promedio es sobre día y noche: el taller no tiene horario (Ajustes, Taller).',
}
