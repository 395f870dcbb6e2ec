/** Words of a job's notes and photos. */

export const en = {
  notes: 'Notes and photos',
  note: 'Note',
  addNote: 'SAVE NOTE',
  aboutJob: 'the whole job',
  about: 'About',
  photo: 'TAKE OR CHOOSE A PHOTO',
  photoBusy: 'Shrinking and saving the photo.',
  photoBad: 'This file is not a readable picture. Take another.',
  photoLeft: 'The photo is saved on this device, under “refused”.',
  photoAgain: 'Send the photo again',
  photoOf: (about: string, time: string) => `Photo of ${about}, ${time}`,
}

export const es: typeof en = {
  notes: 'Notas y fotos',
  note: 'Nota',
  addNote: 'GUARDAR NOTA',
  aboutJob: 'todo el trabajo',
  about: 'Sobre',
  photo: 'TOMAR O ELEGIR UNA FOTO',
  photoBusy: 'Reduciendo y guardando la foto.',
  photoBad: 'Este archivo no es una imagen legible. Tome otra foto.',
  photoLeft: 'La foto queda guardada en este dispositivo, en «rechazadas».',
  photoAgain: 'Enviar la foto otra vez',
  photoOf: (about, time) => `Foto de ${about}, ${time}`,
}
