/** A bare bot that only says back what it is told: the floor that ours is measured beside. */
import { Bot } from "grammy";

const bot = new Bot(String(process.env.BOT_TOKEN), {
  client: { apiRoot: String(process.env.BOT_API_ROOT) },
});
bot.on("message:text", (context) => context.reply(context.message.text));
process.once("SIGTERM", () => void bot.stop());
await bot.start({ onStart: () => void process.stdout.write("ready\n") });
