namespace Whetwright.Sight;

/// <summary>The value of a given rank, found without sorting all (Hoare's selection): medians of many cells are taken for every photo.</summary>
internal static class OrderStatistic
{
    /// <summary>The value below which about this part of the values lies; the array is reordered. Zero where there are none.</summary>
    public static double Quantile(Span<double> values, double part)
    {
        if (values.Length == 0)
            return 0;
        int rank = (int)Math.Clamp(part * (values.Length - 1), 0, values.Length - 1);
        int low = 0;
        int high = values.Length - 1;
        while (low < high)
        {
            double pivot = MiddleOfThree(values[low], values[low + ((high - low) / 2)], values[high]);
            int i = low;
            int j = high;
            while (i <= j)
            {
                while (values[i] < pivot)
                    i++;
                while (values[j] > pivot)
                    j--;
                if (i > j)
                    break;
                (values[i], values[j]) = (values[j], values[i]);
                i++;
                j--;
            }

            if (rank <= j)
                high = j;
            else if (rank >= i)
                low = i;
            else
                break;
        }

        return values[rank];
    }

    private static double MiddleOfThree(double a, double b, double c) => Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));
}
