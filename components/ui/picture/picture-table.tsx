export type TableContent = { head: readonly string[]; rows: readonly (readonly string[])[] }

/** The picture as a table, folded away: for a screen reader, and for whoever wants the figures. */
export function PictureTable({ caption, content }: { caption: string; content: TableContent }) {
  return (
    <details className="no-print mt-1">
      <summary className="inline-flex min-h-11 items-center gap-2 py-1 text-fine-print text-soft underline">
        As a table
      </summary>
      <table className="mb-3 text-small">
        <caption className="sr-only">{caption}</caption>
        <thead>
          <tr className="border-ink border-b">
            {content.head.map((word) => (
              <th
                key={word}
                scope="col"
                className="py-1 pe-5 text-start font-semibold text-fine-print text-soft"
              >
                {word}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {content.rows.map((row) => (
            <tr key={row.join('|')} className="border-line border-b">
              {row.map((cell, column) =>
                column === 0 ? (
                  <th key={content.head[column]} scope="row" className="py-1 pe-5 text-start font-semibold">
                    {cell}
                  </th>
                ) : (
                  <td key={content.head[column]} className="py-1 pe-5">
                    {cell}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}
