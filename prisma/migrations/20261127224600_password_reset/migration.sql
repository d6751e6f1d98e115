-- Ways back in for who forgot the password. Like people and devices they belong to the sign-in alone.

SET lock_timeout = '5s';

CREATE TABLE "password_reset" (
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "person_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),

    CONSTRAINT "password_reset_pkey" PRIMARY KEY ("id")
);

CREATE UNIQUE INDEX "password_reset_token_hash_key" ON "password_reset"("token_hash");
CREATE INDEX "password_reset_person_idx" ON "password_reset"("person_id");
ALTER TABLE "password_reset" ADD CONSTRAINT "password_reset_person_fkey"
  FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

GRANT SELECT, INSERT, UPDATE, DELETE ON password_reset TO oothecary_auth;
GRANT SELECT ON password_reset TO oothecary_backup;
