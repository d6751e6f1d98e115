import { prepareZXingModule, readBarcodes, ZXING_WASM_VERSION } from 'zxing-wasm/reader'

let isPrepared = false

/** Points the library to the copy that this service serves, and begins to load it. */
function prepare(): void {
  if (isPrepared) return
  isPrepared = true
  void prepareZXingModule({
    overrides: { locateFile: () => `/scanner/reader.wasm?v=${ZXING_WASM_VERSION}` },
    fireImmediately: true,
  })
}

/** The text of a square code in a picture, or undefined where there is none. */
export async function readCode(picture: ImageData): Promise<string | undefined> {
  prepare()
  const found = await readBarcodes(picture, { formats: ['QRCode'], maxNumberOfSymbols: 1 })
  return found.find(({ isValid }) => isValid)?.text
}
