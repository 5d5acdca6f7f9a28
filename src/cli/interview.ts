import { type Answers, noAnswers } from "../describe/answers.js";
import { type OpenQuestion, openQuestions } from "../describe/open-questions.js";
import type { TextTable } from "../read/table.js";
import type { Words } from "../render/words.js";
import { message } from "../results/message.js";
import type { Effects } from "./effects.js";

/** Times a question is put again after an answer that is none of the numbers. */
const tries = 3;

/** Puts one question with numbered choices: the one chosen, 'open' when it is left open, 'ended' at the end of input. */
async function putQuestion(
  question: OpenQuestion,
  ask: NonNullable<Effects["ask"]>,
  effects: Effects,
  words: Words,
): Promise<OpenQuestion["choices"][number] | "open" | "ended"> {
  effects.say("");
  effects.say(words.text(question.text));
  question.choices.forEach(({ label }, i) => {
    effects.say(`  ${i + 1}  ${words.text(label)}`);
  });
  for (let i = 0; i < tries; i++) {
    const answer = await ask(words.text(message("cli.ask.prompt", { most: question.choices.length })));
    if (answer === null) return "ended";
    if (answer.trim() === "") return "open";
    const chosen = /^\d+$/.test(answer.trim()) ? question.choices[Number(answer) - 1] : undefined;
    if (chosen !== undefined) return chosen;
    effects.say(words.text(message("cli.ask.not-a-choice", { most: question.choices.length })));
  }
  return "open";
}

/**
 * Asks the person at the terminal what names and values leave open, one question at a time, since an answer may settle or
 * raise others. Without a terminal nothing is asked, and every question stays in the draft.
 */
export async function interview(table: TextTable, effects: Effects, words: Words): Promise<Answers> {
  const { ask } = effects;
  let answers = noAnswers;
  if (ask === undefined) return answers;
  const put = new Set<string>();
  for (;;) {
    const next = openQuestions(table, answers).find(({ id }) => !put.has(id));
    if (next === undefined) return answers;
    put.add(next.id);
    const choice = await putQuestion(next, ask, effects, words);
    if (choice === "ended") return answers;
    if (choice !== "open") answers = choice.take(answers);
  }
}
