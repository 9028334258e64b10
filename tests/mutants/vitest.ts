import {
  ASYMMETRIC_MATCHERS_OBJECT,
  chai,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
} from "@vitest/expect";

/** The part of vitest that the tests tried here use, in the process of the mutants: the same `expect`, no workers. */

type Body = (...row: never[]) => unknown;
interface Suite {
  readonly title: string;
  readonly before: (() => unknown)[];
  readonly after: (() => unknown)[];
  readonly once: (() => unknown)[];
}
interface Declared {
  readonly around: readonly Suite[];
  readonly body: () => unknown;
}
export interface Collected {
  readonly file: string;
  readonly title: string;
  readonly run: () => Promise<void>;
}

const collected: Collected[] = [];
const counted = new Map<string, number>();
const atExit: (() => unknown)[] = [];
process.on("exit", () => {
  for (const hook of atExit) hook();
});
let file = "";
let suites: Suite[] = [];
/** The outermost `describe` that is being read, and how many tests it has declared so far. */
let outermost: (() => void) | undefined;
let place = 0;
/** The test that is looked for while a `describe` is read anew. */
let wanted: { readonly place: number; found?: Declared } | undefined;

const openSuite = (title: string): Suite => ({ title, before: [], after: [], once: [] });

/** Collects what a file of tests declares while it is loaded. */
export async function collect(name: string, load: () => Promise<unknown>): Promise<void> {
  file = name;
  suites = [openSuite("")];
  await load();
  // What a file prepares once is prepared unbroken; within a `describe` it is prepared for each test.
  for (const hook of (suites[0] as Suite).once) await hook();
}

export const tests = (): readonly Collected[] => collected;

function add(title: string, body: () => unknown): void {
  const declared = { around: suites, body };
  const own = place++;
  if (wanted !== undefined) {
    if (wanted.place === own) wanted.found = declared;
    return;
  }
  const named = [...suites.slice(1).map((suite) => suite.title), title].join(" ");
  // Rows of a table may share a title; the tool wants each test by its own name.
  const times = (counted.get(`${file}#${named}`) ?? 0) + 1;
  counted.set(`${file}#${named}`, times);
  const read = outermost;
  collected.push({
    file,
    title: times === 1 ? named : `${named} (${times})`,
    run: () => run(read === undefined ? declared : readAnew(read, own)),
  });
}

/** What a `describe` works out for its tests is worked out for each of them, so that a mutant shows in it. */
function readAnew(read: () => void, own: number): Declared {
  wanted = { place: own };
  try {
    read();
    return wanted.found as Declared;
  } finally {
    wanted = undefined;
  }
}

async function run({ around, body }: Declared): Promise<void> {
  for (const suite of around) for (const hook of suite.before) await hook();
  try {
    await body();
  } finally {
    for (const suite of [...around].reverse()) for (const hook of suite.after) await hook();
  }
}

function within(title: string, body: () => unknown): void {
  const [ofFile, ...outer] = suites as [Suite, ...Suite[]];
  const read = () => {
    suites = [ofFile, ...outer, openSuite(title)];
    try {
      body();
    } finally {
      suites = [ofFile, ...outer];
    }
  };
  if (outer.length > 0) {
    read();
    return;
  }
  outermost = () => {
    place = 0;
    read();
  };
  outermost();
  outermost = undefined;
}

const rowOf = (row: unknown): never[] => (Array.isArray(row) ? row : [row]) as never[];
export const test = Object.assign((title: string, body: () => unknown) => add(title, body), {
  each: (rows: readonly unknown[]) => (title: string, body: Body) => {
    for (const row of rows) add(title, () => body(...rowOf(row)));
  },
});
export const describe = Object.assign(within, {
  each: (rows: readonly unknown[]) => (title: string, body: Body) => {
    for (const row of rows) within(title, () => body(...rowOf(row)));
  },
});
export const beforeEach = (hook: () => unknown) => suites.at(-1)?.before.push(hook);
export const afterEach = (hook: () => unknown) => suites.at(-1)?.after.push(hook);
export const beforeAll = (hook: () => unknown) =>
  suites.length > 1 ? beforeEach(hook) : suites[0]?.once.push(hook);
export const afterAll = (hook: () => unknown) => (suites.length > 1 ? afterEach(hook) : atExit.push(hook));

const RealDate = Date;
const stubbed = new Map<string, string | undefined>();
/** The day and the environment that a test sets. */
export const vi = {
  useFakeTimers: () => undefined,
  setSystemTime(moment: string | Date) {
    const now = new RealDate(moment).getTime();
    globalThis.Date = class extends RealDate {
      constructor(...given: number[]) {
        super(...((given.length === 0 ? [now] : given) as [number]));
      }
      static override now = () => now;
    } as DateConstructor;
  },
  useRealTimers() {
    globalThis.Date = RealDate;
  },
  stubEnv(name: string, value: string) {
    if (!stubbed.has(name)) stubbed.set(name, process.env[name]);
    process.env[name] = value;
  },
  unstubAllEnvs() {
    for (const [name, value] of stubbed) {
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
    }
    stubbed.clear();
  },
};

for (const plugin of [JestExtend, JestChaiExpect, JestAsymmetricMatchers]) chai.use(plugin);
export const expect = Object.assign(
  (value: unknown, message?: string) => chai.expect(value, message),
  chai.expect,
  (globalThis as Record<symbol, object>)[ASYMMETRIC_MATCHERS_OBJECT],
);
