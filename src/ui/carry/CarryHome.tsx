/** The question that comes first: what can your program take? Every kind with what it leaves, the most capable first. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { carryChoiceOf, carryChoices, chooseCarry } from '../../state/carry.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { isOnlyEntered, sightedAt } from '../../state/sighted.ts'
import { Action } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { NumberField } from '../kit/fields.tsx'
import { MORE_WAYS } from '../kit/moreways.ts'
import { go } from '../kit/navigation.ts'
import { typedNumber } from '../kit/numberfield.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { CarryNothing } from './CarryNothing.tsx'
import { outputStepWords, STEP_KIND } from './form.ts'
import { AIMING_WORDS, CARRY, LAW_WORDS, noteOf } from './words.ts'

export function CarryHome({ station }: { station: StationRecord }) {
  if (isOnlyEntered(sightedAt(station))) return <CarryNothing station={station} title={CARRY.title} />
  const { aiming, law } = carryChoiceOf(station)
  const notNow = aiming === null ? CARRY.pickAiming : law === null ? CARRY.pickLaw : null
  return (
    <CorrectFrame
      station={station}
      title={CARRY.title}
      action={
        <Action notNow={notNow} onPress={() => go('correct', 'software', 'page')}>
          {CARRY.show}
        </Action>
      }
      side={
        <>
          <h2 class="correct-head">{CARRY.all}</h2>
          <Text quiet>{CARRY.allWhy}</Text>
          <RowButton label={CARRY.table} onPress={() => go('book', 'export', 'table')} />
          <RowButton label={CARRY.recipe} onPress={() => go('correct', 'software', 'recipe')} />
          <RowButton label={CARRY.budget} onPress={() => go('correct', 'software', 'budget')} />
          <RowButton label={CARRY.check} onPress={() => go('correct', 'software', 'check')} />
          <RowButton label={MORE_WAYS.program} onPress={() => go('correct', 'program')} />
        </>
      }
    >
      <Sentence strong>{CARRY.question}</Sentence>
      <Text quiet>{CARRY.lead}</Text>
      <Text>{CARRY.directions}</Text>
      <FeedInUse station={station} />
      <Kinds station={station} />
    </CorrectFrame>
  )
}

function Kinds({ station }: { station: StationRecord }) {
  const choice = carryChoiceOf(station)
  const told = carryChoices.value
  if (told === null || told.feed !== feedHere(station)) return <Text>{SOLVING.computing}</Text>
  const set = (change: Parameters<typeof chooseCarry>[1]) => chooseCarry(station, change)
  const hasTable = choice.law === 'table'
  return (
    <>
      <Choice
        label={CARRY.aiming}
        long
        value={told.aimings.some(a => a.aiming === choice.aiming) ? choice.aiming : null}
        options={told.aimings.map(({ aiming, remains }) => ({
          value: aiming,
          word: AIMING_WORDS[aiming].word,
          note: (
            <>
              {AIMING_WORDS[aiming].note}
              <br />
              {noteOf(remains, told.allowedLossDb)}
            </>
          ),
        }))}
        onPick={aiming => set({ aiming })}
      />
      <Choice
        label={CARRY.law}
        long
        value={told.laws.some(l => l.law === choice.law) ? choice.law : null}
        options={told.laws.map(({ law, remains }) => ({
          value: law,
          word: LAW_WORDS[law],
          note: noteOf(remains, told.allowedLossDb),
        }))}
        onPick={law => set({ law })}
      />
      {told.hasUnits && choice.law !== 'jack' && (
        <Choice
          label={CARRY.unit}
          long
          value={choice.unit}
          options={[
            { value: 'degrees', word: CARRY.degrees, note: CARRY.degreesNote },
            { value: 'counts', word: CARRY.counts },
          ]}
          onPick={unit => set({ unit })}
        />
      )}
      {choice.law !== 'jack' && choice.law !== 'offset' && (
        <Choice
          label={CARRY.way}
          value={choice.way}
          options={[
            { value: 'command', word: CARRY.command, note: CARRY.commandNote },
            { value: 'reading', word: CARRY.reading, note: CARRY.readingNote },
          ]}
          onPick={way => set({ way, step: way === 'reading' && choice.unit === 'counts' ? 50 : 2 })}
        />
      )}
      {hasTable && (
        <NumberField
          label={CARRY.step}
          kind={STEP_KIND(choice)}
          text={typedNumber(choice.step)}
          signButton={false}
          hint={outputStepWords(choice)}
          onText={(_, parsed) => {
            if (parsed.kind === 'value') set({ step: parsed.value })
          }}
        />
      )}
    </>
  )
}
