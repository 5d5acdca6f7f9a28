import { cellsOf } from "../columns/cells.js";
import { columnProblems, readColumns } from "../columns/read-columns.js";
import type { TextTable } from "../read/table.js";
import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";
import { defaults } from "../settings/make-settings.js";
import type { InputProblem } from "../settings/problems.js";
import { type DateOrder, dispensableRoles, nowhere, type Role, type RoleSpec, roles } from "../settings/roles.js";
import { showValue } from "../settings/show-value.js";
import { type Answers, answeredGuesses, answeredSpecs, withColumn, withReading } from "./answers.js";
import { type AskedProblem, isAsked } from "./draft-role.js";
import { type Guesses, type RoleQuestion, samplesOf } from "./guess.js";
import { mustBeAnswered, rolesWanted } from "./wanted.js";

/** One of the answers that a question offers. */
export interface Choice {
  readonly label: Message;
  /** The answers so far with this one. */
  readonly take: (answers: Answers) => Answers;
}

/** A question that has to be settled before a report can be made, with the answers to choose from. */
export interface OpenQuestion {
  /** The same for the same question, however often the draft is made. */
  readonly id: string;
  readonly text: Message;
  readonly choices: readonly Choice[];
}

/** Columns offered where nothing suggests one. */
const columnsOffered = 20;

function columnQuestion(
  role: Role,
  from: RoleQuestion["from"] | "nothing",
  columns: RoleQuestion["candidates"],
): OpenQuestion {
  const choices = columns.map(({ column, samples }): Choice => {
    const name = { column: showValue(column) };
    const label =
      samples.length === 0
        ? message("input.ask.column-alone", name)
        : message("input.draft.candidate", { ...name, samples: [...samples] });
    return { label, take: (answers) => withColumn(answers, role, column) };
  });
  const none: Choice = { label: message("input.ask.none"), take: (answers) => withColumn(answers, role, null) };
  return {
    id: role,
    text: message(`input.ask.column.${from}`, { role: message(`input.role.${role}`) }),
    choices: [...choices, none],
  };
}

/** Questions about which column is what. */
function columnQuestions(table: TextTable, guesses: Guesses, answers: Answers): OpenQuestion[] {
  const wanted = rolesWanted(guesses, table);
  return roles.flatMap((role) => {
    if (guesses.guesses.has(role) || answers.columns.has(role)) return [];
    const question = guesses.questions.find((candidate) => candidate.role === role);
    if (question !== undefined) {
      return mustBeAnswered(question, wanted) ? [columnQuestion(role, question.from, question.candidates)] : [];
    }
    if (!wanted.has(role)) return [];
    const offered = guesses.otherColumns.slice(0, columnsOffered).flatMap((column) => {
      const cells = cellsOf(table, column);
      return cells === null ? [] : [{ column, samples: samplesOf("child", cells) }];
    });
    return [columnQuestion(role, "nothing", offered)];
  });
}

function orderLabel(order: Exclude<DateOrder, "year-month-day">, { details, value }: InputProblem): Message {
  const reading = order === "day-month-year" ? details?.dayFirst : details?.monthFirst;
  return message(`input.ask.order.${order}`, { value: showValue(value ?? ""), reading: String(reading ?? "") });
}

/** The readings that a problem with a column leaves open. */
function readingsOf(problem: AskedProblem): { readonly label: Message; readonly reading: Partial<RoleSpec> }[] {
  const { details } = problem;
  const list = (value: unknown): string[] => (Array.isArray(value) ? value.map(String) : []);
  switch (problem.kind) {
    case "unit-unclear":
      return list(details?.options).map((unit) => ({ label: message(`input.ask.unit.${unit}`), reading: { unit } }));
    case "date-order-unclear":
      return (["day-month-year", "month-day-year"] as const).map((dateOrder) => ({
        label: orderLabel(dateOrder, problem),
        reading: { dateOrder },
      }));
    case "mixed-decimal-signs":
      return (["point", "comma"] as const).map((decimal) => ({
        label: message(`input.ask.decimal.${decimal}`),
        reading: { decimal },
      }));
    case "cluster-numbers-repeat":
      return [
        ...list(details?.candidates).map((within) => ({
          label: message("input.ask.within.column", { column: showValue(within) }),
          reading: { within },
        })),
        { label: message("input.ask.within.none"), reading: { within: nowhere } },
      ];
    case "codes-unclear":
      return codeReadings(list(details?.values), list(details?.options), Number(details?.distinct));
  }
}

/** Two values and two meanings can be read in two ways; more are better written into the settings. */
function codeReadings(values: readonly string[], meanings: readonly string[], distinct: number) {
  const [first = "", second = ""] = values;
  const [one = "", other = ""] = meanings;
  if (distinct !== 2 || values.length !== 2 || meanings.length !== 2) return [];
  return [
    { [one]: [first], [other]: [second] },
    { [one]: [second], [other]: [first] },
  ].map((codes) => {
    const meant = (meaning: string) => showValue(codes[meaning]?.[0] ?? "");
    const named = { one: message(`input.ask.meaning.${one}`), other: message(`input.ask.meaning.${other}`) };
    return {
      label: message("input.ask.codes", { first: meant(one), second: meant(other), ...named }),
      reading: { codes },
    };
  });
}

/** Questions about how a column is read: its unit, its codes, the order of its dates, its decimal sign. */
function readingQuestions(table: TextTable, guesses: Guesses, answers: Answers): OpenQuestion[] {
  const columns = readColumns(table, answeredSpecs(guesses, answers), defaults.ageRange.to);
  return columnProblems(columns).flatMap((problem) => {
    const guess = [...guesses.guesses.values()].find(({ column }) => column === problem.column);
    if (guess === undefined || dispensableRoles.has(guess.role) || !isAsked(problem)) return [];
    const readings = readingsOf(problem);
    if (readings.length === 0) return [];
    const { role, column } = guess;
    const text = message(`input.ask.reading.${problem.kind}`, {
      column: showValue(column),
      role: message(`input.role.${role}`),
    });
    const choices = readings.map(
      ({ label, reading }): Choice => ({ label, take: (known) => withReading(known, role, reading) }),
    );
    return [{ id: `${role} ${problem.kind}`, text, choices }];
  });
}

/** Everything still open after some answers, in the order to be asked: first which column is what, then how it is read. */
export function openQuestions(table: TextTable, answers: Answers): OpenQuestion[] {
  const guesses = answeredGuesses(table, answers);
  return [...columnQuestions(table, guesses, answers), ...readingQuestions(table, guesses, answers)];
}
