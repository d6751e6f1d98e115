/** What holds for every call, so that no call has to say it. */
export function Manners() {
  return (
    <ul className="mt-4 list-disc space-y-1 ps-5 text-small">
      <li>
        Send <code>Authorization: Bearer …</code> with a token made in the workspace. It carries a role and an
        expiry.
      </li>
      <li>
        Dates are <code>YYYY-MM-DD</code>, instants RFC 3339, temperatures °C, lengths mm, money{' '}
        <code>{'{ "amount": 1250, "currency": "EUR" }'}</code> in minor units.
      </li>
      <li>
        A list is <code>{'{ "items": […], "nextCursor": null }'}</code>; send <code>nextCursor</code> as{' '}
        <code>cursor</code> for the next page.
      </li>
      <li>
        Every POST takes an <code>Idempotency-Key</code>: the same key and body has its effect once and gets
        the first answer again, the same key with another body 422.
      </li>
      <li>
        Changes take <code>If-Match</code> with the version they were made on; a newer one answers 409 with
        what holds now.
      </li>
      <li>
        What speaks against something that was done is answered 201 with <code>warnings</code>. 409 is for a
        true conflict: already sold, more than are left, changed meanwhile.
      </li>
      <li>
        Errors are <code>application/problem+json</code>, each wrong value with its path. Unknown fields are
        refused. Unknown and foreign ids answer 404 alike.
      </li>
      <li>
        For machines:{' '}
        <a href="/api/v1/openapi.json" className="underline">
          openapi.json
        </a>
        , OpenAPI 3.1.
      </li>
    </ul>
  )
}
