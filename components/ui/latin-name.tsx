/** Words of a scientific name that stay upright by custom. */
const UPRIGHT = new Set(['sp.', 'spp.', 'cf.', 'aff.', 'var.', 'subsp.', 'ssp.', 'f.'])

/** *Creobroter* sp.: genus and species in the italic of the names, the abbreviations upright. */
export function LatinName({ name }: { name: string }) {
  const words = name.split(' ').filter(Boolean)
  return (
    <span lang="la">
      {words.map((word, position) => {
        const key = `${position}-${word}`
        const space = position === 0 ? '' : ' '
        return UPRIGHT.has(word) ? (
          <span key={key}>{`${space}${word}`}</span>
        ) : (
          <i key={key} className="latin">{`${space}${word}`}</i>
        )
      })}
    </span>
  )
}
