/** What is used of the reader. It is an optional package: the service runs without it, and only scanning is off. */
declare module 'zxing-wasm/reader' {
  export const ZXING_WASM_VERSION: string
  export function prepareZXingModule(options: {
    overrides: { locateFile: (file: string) => string }
    fireImmediately: boolean
  }): void | Promise<object>
  export function readBarcodes(
    picture: ImageData,
    options: { formats: readonly 'QRCode'[]; maxNumberOfSymbols: number },
  ): Promise<{ isValid: boolean; text: string }[]>
}
