import type { en } from './states.ts'

export const es: typeof en = {
  panel: {
    unknown: 'aún no está en el trabajo',
    prep: 'toca preparar',
    due: 'aún sin manos',
    coating: 'aplicándose',
    between: 'entre manos',
    abraded: 'lijado',
    sentBack: 'devuelto',
    'cure.due': 'toca curar',
    'cure.running': 'curando',
    sand: 'toca lijar',
    polish: 'toca pulir',
    finished: 'por revisar y aprobar',
    passed: 'aprobado',
    removed: 'quitado',
  },
  cup: {
    unmixed: 'aún sin mezclar',
    live: 'en uso',
    stored: 'en uso, sin vida útil',
    emptied: 'vacío',
  },
  gun: {
    clean: 'limpia',
    loaded: 'cargada',
    dirty: 'tiene otro material: límpiela',
  },
  job: {
    unknown: 'aún no está abierto',
    open: 'abierto',
    paused: 'avisos en silencio',
    closed: 'cerrado',
  },
}
