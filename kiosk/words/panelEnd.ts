/** Words of a panel that is finished or was removed, and of a job that has none, or none left to do. */

export const en = {
  noPanels: 'No panels in this job yet.',
  noPanelsWhy: 'Choose them on the drawing. Each gets its route from your sheets.',
  allPassed: (n: number) =>
    n === 1 ? 'Its one panel has passed.' : `All ${n} panels have passed.`,
  allPassedWhy: 'Nothing is left to do. Close the job when the vehicle goes.',
  passed: (time: string) => `PASSED ${time}`,
  passedWhy:
    'Nothing is left to do on it. If something is found on it, send it back to the step that is done again.',
  removed: 'Removed from the job',
  wasRemoved: (time: string) => `Removed from the job ${time}`,
  removedWhy: 'It is not painted here any more. What was done to it stays in the history.',
  toJob: 'TO THE JOB',
}

export const es: typeof en = {
  noPanels: 'Este trabajo aún no tiene paneles.',
  noPanelsWhy: 'Elíjalos en el dibujo. Cada uno recibe su ruta según sus fichas.',
  allPassed: (n) =>
    n === 1 ? 'Su único panel está aprobado.' : `Los ${n} paneles están aprobados.`,
  allPassedWhy: 'No queda nada por hacer. Cierre el trabajo cuando se entregue el vehículo.',
  passed: (time) => `APROBADO ${time}`,
  passedWhy: 'No queda nada por hacer. Si se encuentra algo, devuélvalo al paso que se repite.',
  removed: 'Quitados del trabajo',
  wasRemoved: (time) => `Quitado del trabajo ${time}`,
  removedWhy: 'Ya no se pinta aquí. Lo que se le hizo sigue en el historial.',
  toJob: 'AL TRABAJO',
}
