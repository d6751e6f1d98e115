import { clsx } from 'clsx'
import { type ReactNode, useId } from 'react'
import { PictureTable, type TableContent } from './picture-table'

/** One drawing of a picture: made for a width, with ids of its own. */
export type Rendition = { widthPx: number; id: string }

type Props = {
  title: string
  /** The picture in a sentence, for those who do not see it. */
  description: string
  heightOf: (widthPx: number) => number
  draw: (rendition: Rendition) => ReactNode
  /** The same, in words and figures. */
  table: TableContent
}

/**
 * The server does not know how wide the picture will stand, and scaled letters become unreadable on a phone.
 * So it is laid out three times, each time with labels that fit, and the room decides which one is shown.
 */
const RENDITIONS = [
  { widthPx: 320, show: 'block max-w-[26rem] @min-[520px]:hidden' },
  { widthPx: 520, show: 'hidden max-w-[42rem] @min-[520px]:block @min-[880px]:hidden' },
  { widthPx: 880, show: 'hidden max-w-[68rem] @min-[880px]:block' },
]

export function Picture({ title, description, heightOf, draw, table }: Props) {
  const id = useId()
  return (
    <figure className="picture @container">
      {RENDITIONS.map(({ widthPx, show }) => {
        const own = `${id}-${widthPx}`
        return (
          <svg
            key={widthPx}
            viewBox={`0 0 ${widthPx} ${heightOf(widthPx)}`}
            className={clsx('h-auto w-full', show)}
            role="img"
            aria-labelledby={`${own}-title`}
            aria-describedby={`${own}-description`}
          >
            <title id={`${own}-title`}>{title}</title>
            <desc id={`${own}-description`}>{description}</desc>
            {draw({ widthPx, id: own })}
          </svg>
        )
      })}
      <PictureTable caption={title} content={table} />
    </figure>
  )
}
