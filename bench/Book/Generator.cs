using System.Globalization;
using Microsoft.Data.Sqlite;
using Whetwright.Records;
using Whetwright.Records.Sqlite;

namespace Whetwright.Book;

/// <summary>
/// An invented shop's book, the same for the same seed: owners, three pieces each on average, visits spread over twelve years, with every kind of fact that a
/// visit leaves. The last visits are still here, at every stage of the work.
/// </summary>
internal static class Generator
{
    public const int Here = 150;

    private static readonly string[] First = ["Ana", "Bela", "Cem", "Dora", "Eli", "Fay", "Gil", "Hana", "Ivo", "Jun", "Kira", "Lev", "Mina", "Nils", "Olga", "Pia", "Quin", "Rosa", "Sami", "Tove"];
    private static readonly string[] Last = ["Amsel", "Bussard", "Drossel", "Elster", "Fink", "Gimpel", "Habicht", "Kiebitz", "Lerche", "Meise", "Pirol", "Rabe", "Sperber", "Storch", "Zeisig"];
    private static readonly string[] Kinds = ["DoubleBevel", "DoubleBevel", "DoubleBevel", "DoubleBevel", "SingleBevel", "Scissors", "Chisel", "Serrated", "PlaneIron"];

    public static void Fill(string folder, int visits, int seed)
    {
        Random random = new(seed);
        using SqliteConnection connection = new($"Data Source={Path.Combine(folder, SqliteBook.FileName)};Foreign Keys=False");
        connection.Open();
        using SqliteTransaction all = connection.BeginTransaction();
        using Inserter owners = new(connection, "Owners", "Id Name Phone Email IsAccount SearchText EnteredAt Version");
        using Inserter pieces = new(connection, "Pieces", "Id OwnerId Kind Name LengthMm SearchText EnteredAt Version");
        using Inserter intakes = new(connection, "Intakes", "Id OwnerId HappenedAt EnteredAt");
        using Inserter rows = new(connection, "Visits", "Id PieceId Tag IntakeId HappenedAt EnteredAt PromisedFor Wishes DamageAcknowledged ComplaintAboutId Place HandBackId Version");
        using FactRows facts = new(connection);
        DateTime start = new(2014, 1, 6, 8, 0, 0, DateTimeKind.Utc);
        double step = 12 * 365.25 * 24 * 60 / visits;
        int pieceCount = Math.Max(1, visits / 4), ownerCount = Math.Max(1, pieceCount / 3);
        for (int o = 1; o <= ownerCount; o++)
        {
            string name = $"{First[random.Next(First.Length)]} {Last[random.Next(Last.Length)]}{(random.Next(3) == 0 ? $" {o}" : "")}";
            string phone = string.Create(CultureInfo.InvariantCulture, $"+49 1{random.Next(50, 80)} {random.Next(1_000_000, 9_999_999)}");
            owners.Add(o, name, phone, $"o{o}@example.org", o % 200 == 0, Folded.Of(name, phone, $"o{o}@example.org"), start, 0);
        }

        for (int p = 1; p <= pieceCount; p++)
        {
            string kind = Kinds[random.Next(Kinds.Length)];
            double length = Math.Round(80 + (220 * random.NextDouble()));
            string name = string.Create(CultureInfo.InvariantCulture, $"{kind} {length} no {p}");
            pieces.Add(p, 1 + random.Next(ownerCount), kind, name, length, Folded.Of(name, Last[random.Next(Last.Length)]), start, 0);
        }

        facts.Kit(start);
        for (int v = 1; v <= visits; v++)
        {
            DateTime at = start.AddMinutes(step * v);
            int piece = 1 + ((v * 7919) % pieceCount);
            int left = visits - v;
            bool here = left < Here;
            intakes.Add(v, 1, at, at);
            rows.Add(v, piece, 1000 + v, v, at, at, DateOnly.FromDateTime(at.AddDays(3)), "thin, keep the tip", 0, v % 97 == 0 && v > pieceCount ? v - pieceCount : null,
                $"shelf {v % 12}", here ? null : v, 0);
            facts.Of(v, at, random, stage: here ? left % 8 : 8);
        }

        connection.CreateCommandText($"UPDATE \"Shop\" SET \"NextTag\" = {1001 + visits}");
        all.Commit();
        connection.CreateCommandText("PRAGMA optimize=0x10002");
    }

    internal static void CreateCommandText(this SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // our own words
        command.CommandText = sql;
#pragma warning restore CA2100
        command.ExecuteNonQuery();
    }
}
