-- The plan of visits: what it is made from, what was planned, and what people did with it.
-- CreateTable
CREATE TABLE "plan_terms" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "weeks" INTEGER NOT NULL,
    "bays" JSONB NOT NULL,
    "kept" DOUBLE PRECISION NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by" UUID,

    CONSTRAINT "plan_terms_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "plans" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "first_day" DATE NOT NULL,
    "weeks" INTEGER NOT NULL,
    "as_of" DATE NOT NULL,
    "gain" DOUBLE PRECISION NOT NULL,
    "bound" DOUBLE PRECISION,
    "content" TEXT NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by" UUID,
    "in_force_at" TIMESTAMPTZ(3),

    CONSTRAINT "plans_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "plan_visits" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "week_on" DATE NOT NULL,
    "bay" INTEGER NOT NULL,
    "hours" DOUBLE PRECISION NOT NULL,
    "gain" DOUBLE PRECISION NOT NULL,
    "jobs" JSONB NOT NULL,
    "pinned" BOOLEAN NOT NULL,
    "promised_on" DATE,
    "promised_whom" TEXT,
    "done_on" DATE,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by" UUID,

    CONSTRAINT "plan_visits_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "plan_work" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID,
    "what" TEXT NOT NULL,
    "week_on" DATE NOT NULL,
    "bay" INTEGER NOT NULL,
    "hours" DOUBLE PRECISION NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by" UUID,
    "undone_at" TIMESTAMPTZ(3),

    CONSTRAINT "plan_work_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "plan_closed" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "from_on" DATE NOT NULL,
    "until_on" DATE NOT NULL,
    "why" TEXT NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by" UUID,
    "undone_at" TIMESTAMPTZ(3),

    CONSTRAINT "plan_closed_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "plan_acts" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "act" TEXT NOT NULL,
    "told" JSONB NOT NULL,
    "before" JSONB NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "by" UUID,
    "undone_at" TIMESTAMPTZ(3),
    "undone_by" UUID,

    CONSTRAINT "plan_acts_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateIndex
CREATE INDEX "plan_visits_organisation_id_vehicle_id_idx" ON "plan_visits"("organisation_id", "vehicle_id");

-- CreateIndex
CREATE INDEX "plan_work_organisation_id_vehicle_id_idx" ON "plan_work"("organisation_id", "vehicle_id");

-- CreateIndex
CREATE INDEX "plan_closed_organisation_id_vehicle_id_idx" ON "plan_closed"("organisation_id", "vehicle_id");

-- AddForeignKey
ALTER TABLE "plan_visits" ADD CONSTRAINT "plan_visits_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan_work" ADD CONSTRAINT "plan_work_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan_closed" ADD CONSTRAINT "plan_closed_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- By hand: one plan is made at a time; and a vehicle has one visit that is not done.
CREATE UNIQUE INDEX "jobs_one_plan" ON "jobs"("organisation_id") WHERE "state" = 'running' AND "kind" = 'plan';
CREATE UNIQUE INDEX "plan_visits_one_open" ON "plan_visits"("organisation_id", "vehicle_id") WHERE "done_on" IS NULL;

-- By hand: row-level security, as for the other tables.
ALTER TABLE "plan_terms" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "plan_terms" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "plan_terms" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "plans" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "plans" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "plans" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "plan_visits" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "plan_visits" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "plan_visits" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "plan_work" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "plan_work" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "plan_work" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "plan_closed" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "plan_closed" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "plan_closed" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "plan_acts" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "plan_acts" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "plan_acts" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
