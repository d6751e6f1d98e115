-- What a look showed of how far an animal is: wing buds, or that it refuses food.
ALTER TABLE "look" ADD COLUMN     "refuses_food" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "wing_buds" BOOLEAN NOT NULL DEFAULT false;

-- CreateIndex
CREATE INDEX "look_signs_idx" ON "look"("workspace_id", "individual_id") WHERE (archived_at IS NULL AND (wing_buds OR refuses_food));

-- A skin says more than either: the look that found one shows neither.
ALTER TABLE look ADD CONSTRAINT look_signs_without_moult CHECK (moult_id IS NULL OR NOT (wing_buds OR refuses_food));

-- What was seen is added to the look of that day, and taken back from it.
GRANT UPDATE (refuses_food, wing_buds) ON look TO oothecary_app;
