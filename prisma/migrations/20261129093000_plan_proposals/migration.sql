-- A plan may be proposed in the place of the one in force, and taken or left.
-- AlterTable
ALTER TABLE "plans" ADD COLUMN     "left_at" TIMESTAMPTZ(3),
ADD COLUMN     "proposed_at" TIMESTAMPTZ(3);

-- By hand: one proposal is made at a time.
CREATE UNIQUE INDEX "jobs_one_plan_anew" ON "jobs"("organisation_id") WHERE "state" = 'running' AND "kind" = 'plan-anew';
