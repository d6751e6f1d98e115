/** The sign of what still runs: slanted lines. Certain is solid, expected is a sand band. */
export function Hatching({ id }: { id: string }) {
  return (
    <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
      <rect width="6" height="6" className="fill-sheet" />
      <path d="M0 0v6" strokeWidth="2" className="stroke-ink" />
    </pattern>
  )
}

/** Rows of dots, for what has left by another way than its neighbour of the same colour. */
export function Dots({ id }: { id: string }) {
  return (
    <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse">
      <rect width="6" height="6" className="fill-sheet" />
      <circle cx="1.5" cy="1.5" r="1.4" className="fill-fine" />
      <circle cx="4.5" cy="4.5" r="1.4" className="fill-fine" />
    </pattern>
  )
}
