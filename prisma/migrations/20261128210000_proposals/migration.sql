-- What was proposed to whom, and what became of it.
-- CreateTable
CREATE TABLE "proposals" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "weak_point" TEXT NOT NULL,
    "positions" INTEGER[],
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_on" DATE NOT NULL,
    "made_by" UUID,
    "as_of" DATE NOT NULL,
    "horizon_days" INTEGER NOT NULL,
    "chances" JSONB NOT NULL,
    "advice" TEXT NOT NULL,
    "cost_of_waiting" DOUBLE PRECISION NOT NULL,
    "price" DOUBLE PRECISION NOT NULL,
    "hours" DOUBLE PRECISION NOT NULL,
    "saving" DOUBLE PRECISION,
    "saving_low" DOUBLE PRECISION,
    "saving_high" DOUBLE PRECISION,
    "evidence" TEXT NOT NULL,

    CONSTRAINT "proposals_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "proposal_acts" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "proposal_id" UUID NOT NULL,
    "act" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "by" UUID,
    "whom" TEXT,
    "how" TEXT,
    "reason" TEXT,
    "on_day" DATE,
    "undone_at" TIMESTAMPTZ(3),
    "undone_by" UUID,

    CONSTRAINT "proposal_acts_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateIndex
CREATE INDEX "proposals_organisation_id_vehicle_id_idx" ON "proposals"("organisation_id", "vehicle_id");

-- CreateIndex
CREATE INDEX "proposal_acts_organisation_id_proposal_id_idx" ON "proposal_acts"("organisation_id", "proposal_id");

-- AddForeignKey
ALTER TABLE "proposals" ADD CONSTRAINT "proposals_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "proposal_acts" ADD CONSTRAINT "proposal_acts_organisation_id_proposal_id_fkey" FOREIGN KEY ("organisation_id", "proposal_id") REFERENCES "proposals"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- By hand: row-level security, as for the other tables.
ALTER TABLE "proposals" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "proposals" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "proposals" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "proposal_acts" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "proposal_acts" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "proposal_acts" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
