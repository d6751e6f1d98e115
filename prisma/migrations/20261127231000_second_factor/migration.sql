-- A second factor at sign-in: of a person, with codes for a lost device, and asked for by a workspace.

SET lock_timeout = '5s';

ALTER TABLE "person" ADD COLUMN "totp_secret" BYTEA, ADD COLUMN "totp_since" TIMESTAMPTZ(3),
  ADD COLUMN "totp_last_step" BIGINT;
ALTER TABLE person ADD CONSTRAINT person_totp_whole
  CHECK ((totp_since IS NULL OR totp_secret IS NOT NULL) AND (totp_last_step IS NULL OR totp_since IS NOT NULL));

CREATE TABLE "recovery_code" (
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "person_id" UUID NOT NULL,
    "code_hash" BYTEA NOT NULL,
    "used_at" TIMESTAMPTZ(3),

    CONSTRAINT "recovery_code_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "recovery_code_person_idx" ON "recovery_code"("person_id");
ALTER TABLE "recovery_code" ADD CONSTRAINT "recovery_code_person_fkey"
  FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE RESTRICT;
GRANT SELECT, INSERT, UPDATE, DELETE ON recovery_code TO oothecary_auth;
GRANT SELECT ON recovery_code TO oothecary_backup;

ALTER TABLE "workspace" ADD COLUMN "requires_second_factor" BOOLEAN NOT NULL DEFAULT false;
