import { writeFileSync } from 'node:fs'
import QRCode from 'qrcode'

const [WIDTH, HEIGHT] = [640, 480]
const [DARK, LIGHT, NO_COLOUR] = [30, 220, 128]
const POINT_PX = 9

/** Writes what a camera sees that is held over a label: its code in the middle, a light ground around it. */
export function filmLabel(file: string, text: string): void {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: 'M' })
  const side = modules.size * POINT_PX
  const [left, top] = [Math.floor((WIDTH - side) / 2), Math.floor((HEIGHT - side) / 2)]
  const light = Buffer.alloc(WIDTH * HEIGHT, LIGHT)
  for (let y = 0; y < side; y++)
    for (let x = 0; x < side; x++)
      if (modules.get(Math.floor(y / POINT_PX), Math.floor(x / POINT_PX)))
        light[(top + y) * WIDTH + left + x] = DARK
  const colour = Buffer.alloc((WIDTH * HEIGHT) / 2, NO_COLOUR)
  const picture = Buffer.concat([Buffer.from('FRAME\n'), light, colour])
  const head = Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420jpeg\n`)
  writeFileSync(file, Buffer.concat([head, picture, picture, picture]))
}
