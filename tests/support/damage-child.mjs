// Verifies a book and judges from it, and prints what was found: for tests with damaged books, in a process of its own.
import { runCli } from "../../dist/cli/index.js";

const [book, on] = process.argv.slice(2);

async function said(...args) {
  let out = "";
  let err = "";
  const io = { out: (text) => (out += text), err: (text) => (err += text) };
  const code = await runCli(args, io);
  return { code, out, err };
}

const verify = await said("verify", "--book", book, "--json");
const judge = await said("judge", "--book", book, "--on", on, "--json");
const verdicts =
  judge.out === ""
    ? null
    : JSON.parse(judge.out).circuits.map((one) => [one.cart, one.circuit, one.verdict, one.reasons]);
process.stdout.write(
  JSON.stringify({
    verify: { code: verify.code, err: verify.err },
    judge: { code: judge.code, err: judge.err, verdicts },
  }),
);
