-- CreateEnum
CREATE TYPE "moulted_share" AS ENUM ('none', 'first', 'some', 'most', 'all');

-- CreateTable
CREATE TABLE "clutch_observation" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "clutch_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "moulted" "moulted_share" NOT NULL,
    "number" INTEGER NOT NULL,
    "size_gap" BOOLEAN NOT NULL DEFAULT false,
    "hunger" BOOLEAN NOT NULL DEFAULT false,
    "note" TEXT NOT NULL DEFAULT '',
    "seen_by" UUID,
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "clutch_observation_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "moult_round" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "on" DATE NOT NULL,
    "walked_by" UUID,
    "finished_at" TIMESTAMPTZ(3),
    "archived_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "moult_round_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "look" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "individual_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "moult_id" UUID,
    "moult_round_id" UUID,
    "looked_by" UUID,
    "archived_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "look_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateIndex
CREATE INDEX "clutch_observation_clutch_idx" ON "clutch_observation"("workspace_id", "clutch_id", "on");

-- CreateIndex
CREATE INDEX "moult_round_on_idx" ON "moult_round"("workspace_id", "on");

-- CreateIndex
CREATE INDEX "look_individual_idx" ON "look"("workspace_id", "individual_id", "on");

-- CreateIndex
CREATE INDEX "look_moult_round_idx" ON "look"("workspace_id", "moult_round_id");

-- CreateIndex
CREATE INDEX "look_moult_idx" ON "look"("workspace_id", "moult_id");

-- CreateIndex
CREATE UNIQUE INDEX "look_once_a_day" ON "look"("workspace_id", "individual_id", "on") WHERE (archived_at IS NULL AND moult_id IS NULL);

-- AddForeignKey
ALTER TABLE "clutch_observation" ADD CONSTRAINT "clutch_observation_clutch_fkey" FOREIGN KEY ("workspace_id", "clutch_id") REFERENCES "clutch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "clutch_observation" ADD CONSTRAINT "clutch_observation_observer_fkey" FOREIGN KEY ("workspace_id", "seen_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "moult_round" ADD CONSTRAINT "moult_round_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "moult_round" ADD CONSTRAINT "moult_round_walker_fkey" FOREIGN KEY ("workspace_id", "walked_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "look" ADD CONSTRAINT "look_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "look" ADD CONSTRAINT "look_moult_fkey" FOREIGN KEY ("workspace_id", "moult_id") REFERENCES "moult"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "look" ADD CONSTRAINT "look_moult_round_fkey" FOREIGN KEY ("workspace_id", "moult_round_id") REFERENCES "moult_round"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "look" ADD CONSTRAINT "look_looker_fkey" FOREIGN KEY ("workspace_id", "looked_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What Prisma's schema cannot say.
CALL app.close_table('moult_round');
CALL app.close_table('look');
CALL app.close_table('clutch_observation');

-- A look is never another one's: what can be undone is that it counts.
GRANT SELECT, INSERT, UPDATE ON moult_round, clutch_observation TO oothecary_app;
GRANT SELECT, INSERT ON look TO oothecary_app;
GRANT UPDATE (archived_at) ON look TO oothecary_app;

ALTER TABLE clutch_observation ADD CONSTRAINT clutch_observation_number CHECK (number BETWEEN 1 AND 12);
