/** The bundler gives the URL under which the file is served. */
declare module '*.wasm' {
  const url: string
  export default url
}
