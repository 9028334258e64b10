import { beforeEach } from "vitest";

/** Tests that simulate thousands of cases: a second and more each, once for every mutant that lives. */
const SLOW =
  /cover(?:s the|s 95)|95 % Poisson interval|80 to 90 % of fluids|half of what it is rated for|noise alone is called|reads off values scattered|general ODE solver|or an older sample never make it milder|of 20,000 circuits|nor of a fleet that crowds/;

beforeEach(({ task, skip }) => {
  if (SLOW.test(task.name)) skip("too slow to be run for every mutant");
});
