-- ── Since when a person's mail address is known to be theirs ──────────────────────────────────────
-- Who has an account already counts as confirmed; whoever opens one from here on confirms by a link.
ALTER TABLE person ADD COLUMN confirmed_at timestamptz(3) DEFAULT now();
ALTER TABLE person ALTER COLUMN confirmed_at DROP DEFAULT;
