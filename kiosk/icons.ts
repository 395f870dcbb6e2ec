import { Resvg } from '@resvg/resvg-js'

/** The icons that app.webmanifest names, drawn from our own: installing wants them as PNG. */

type Icon = { readonly path: string; readonly body: Uint8Array }

/** A mask may cut a tenth off each side (W3C Web Application Manifest, "safe zone"). */
const SAFE_ZONE = 0.8
const PAPER = '#f3f1ec'
const SIDE = 32

/** @param svg the icon, 32 by 32 units */
export function icons(svg: string): readonly Icon[] {
  return [
    { path: '/icon-192.png', body: png(svg, 192) },
    { path: '/icon-512.png', body: png(svg, 512) },
    { path: '/icon-maskable-512.png', body: png(maskable(svg), 512) },
  ]
}

const png = (svg: string, widthPx: number): Uint8Array =>
  new Uint8Array(new Resvg(svg, { fitTo: { mode: 'width', value: widthPx } }).render().asPng())

function maskable(svg: string): string {
  const inner = svg.replace(/^[\s\S]*?<svg[^>]*>|<\/svg>\s*$/g, '')
  const away = (SIDE * (1 - SAFE_ZONE)) / 2
  const drawn = `<g transform="translate(${away} ${away}) scale(${SAFE_ZONE})">${inner}</g>`
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SIDE} ${SIDE}"><rect width="${SIDE}" height="${SIDE}" fill="${PAPER}"/>${drawn}</svg>`
}
