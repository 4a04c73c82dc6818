package ebbstead.sample.present.record

import ebbstead.EbbsteadCompanion
import ebbstead.Item
import ebbstead.Label
import ebbstead.Price
import ebbstead.Stocked
import ebbstead.Supply
import ebbstead.EntryKind
import ebbstead.sample.present.Clock
import ebbstead.sample.present.confirmation
import java.io.File

/** What is there and how long it lasts, noting more, and the facts for a statement of need. */
class SuppliesPage(companion: EbbsteadCompanion, clock: Clock, passing: File) :
    RecordPage(companion, clock, passing, USUAL) {
    private var statement: Part? = null

    override fun parts(): List<Part> {
        val page = attempt(Ask.DAYS) { Part.Page(companion.supplies().page(days(Ask.DAYS), now)) }
        val shown = statement
        return said() + (if (shown != null) press(Act.SAVE_STATEMENT) + shown else emptyList()) +
            listOfNotNull(page) + field(Ask.DAYS) + press(Act.SHOW) +
            Part.Heading(words.label(Label.ADD)) +
            choice(Ask.ITEM, Item.entries.map { it.name to words.item(it) }) +
            choice(Ask.STOCKED, Stocked.entries.map { it.name to words.stocked(it) }) +
            listOf(Ask.AMOUNT, Ask.EXPIRES, Ask.PRICE, Ask.CURRENCY, Ask.FROM).map { field(it) } + press(Act.NOTE_SUPPLY, Act.UNDO) +
            Part.Heading(words.label(Label.STATEMENT)) + field(Ask.NEED_DAYS) + press(Act.STATEMENT)
    }

    override fun done(act: Act, filled: Filled) {
        when (act) {
            Act.SHOW -> statement = null
            Act.STATEMENT ->
                statement = attempt(Ask.NEED_DAYS) { Part.Page(companion.supplies().statement(days(Ask.NEED_DAYS), now)) }
            Act.SAVE_STATEMENT -> make(named("ebbstead", "txt"), "text/plain", Ask.NEED_DAYS) { file ->
                file.writeText(companion.supplies().statementText(days(Ask.NEED_DAYS), now))
                emptyList()
            }
            Act.UNDO -> attempt(null) {
                val undone = companion.log().undo(now)
                say(listOf(undone?.let { companion.confirmation(it.undone, Label.TAKEN_BACK) } ?: words.label(Label.NOTHING_TO_UNDO)))
            }
            else -> note()
        }
    }

    private fun note() {
        val amount = attempt(Ask.AMOUNT) { words.readNumber(typed(Ask.AMOUNT)) }
        val noPrice = typed(Ask.PRICE).isBlank()
        val price = if (noPrice) null else attempt(Ask.PRICE) { words.readNumber(typed(Ask.PRICE)) }
        if (amount == null || (price == null && !noPrice)) return
        attempt(::field) {
            val supply = Supply(
                Item.valueOf(typed(Ask.ITEM)), Stocked.valueOf(typed(Ask.STOCKED)), amount,
                expires = typed(Ask.EXPIRES).ifBlank { null },
                price = price?.let { Price(it, typed(Ask.CURRENCY)) },
                from = typed(Ask.FROM).ifBlank { null },
            )
            say(listOf(companion.confirmation(companion.log().record(EntryKind.Supply(supply), now, now), Label.KEPT)))
            // The currency stays: it is the same the next time.
            empty(Ask.AMOUNT, Ask.EXPIRES, Ask.PRICE, Ask.FROM)
        }
    }

    /** The field that holds what core names. */
    private fun field(refused: String): Ask? = when (refused) {
        "amount of a supply" -> Ask.AMOUNT
        "expiry date" -> Ask.EXPIRES
        "price", "quote" -> Ask.PRICE
        "currency" -> Ask.CURRENCY
        "text" -> Ask.FROM
        else -> null
    }

    private companion object {
        val USUAL = mapOf(
            Ask.DAYS to "365", Ask.NEED_DAYS to "90", Ask.ITEM to Item.SENSOR.name, Ask.STOCKED to Stocked.COUNTED.name,
        )
    }
}
