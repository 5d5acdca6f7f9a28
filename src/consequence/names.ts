import { message } from "../results/message.js";
import type { Message } from "../results/schema.js";

export const estimateName = (id: string): Message => message(`estimate.${id}`);
export const className = (id: string): Message => message(`class.${id}`);
